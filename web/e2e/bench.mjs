// A bench in a folder of its own and Debian's Chromium, for tests that use it as a builder does. POLEWRIGHT names the binary, CHROMIUM the browser.
import assert from "node:assert/strict";
import { execFileSync, spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, afterEach, before } from "node:test";
import { chromium } from "playwright-core";

const here = import.meta.dirname;
const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
export const scratch = mkdtempSync(join(tmpdir(), "bench-"));
const shots = process.env.SHOTS ?? join(here, "shots");
export const folder = join(scratch, "magnets");
let binary = process.env.POLEWRIGHT, browser;
export const patience = 90_000; // for whole answers on a busy machine
export const bench = { url: "", server: null, faults: [] };

export function start(addr = "127.0.0.1:0", of = folder) {
  return new Promise((resolve, reject) => {
    const server = (bench.server = spawn(binary, ["serve", of, "--addr", addr], { stdio: ["ignore", "pipe", "pipe"] }));
    server.stdout.once("data", (d) => resolve((bench.url = String(d).trim())));
    server.stderr.on("data", (d) => (bench.faults.push(`the server says: ${d}`), reject(new Error(String(d)))));
    server.once("exit", (code) => reject(new Error(`serve ended with ${code}`)));
  });
}
export const kill = () => new Promise((r) => (bench.server.once("exit", r), bench.server.kill("SIGKILL")));

// launch is a browser that draws without a graphics card: WebGL by SwiftShader, the page composed by the processor. With onSwiftShader the page is
// composed by SwiftShader too, which costs several times as much a frame as anything on it.
const onSwiftShader = "--use-angle=swiftshader";
export const launch = (...args) => chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox", "--enable-unsafe-swiftshader", ...args] });

export async function page(options = {}, of = browser) {
  const context = await of.newContext({ viewport: { width: 1440, height: 900 }, acceptDownloads: true, ...options });
  const p = await context.newPage();
  p.on("console", (m) => m.type() === "error" && bench.faults.push(m.text()));
  p.on("pageerror", (e) => bench.faults.push(String(e)));
  p.on("request", (r) => !/^(blob:|data:)/.test(r.url()) && !r.url().startsWith(bench.url) && bench.faults.push(`asks ${r.url()}`));
  // What waits for an answer that is refused would wait in vain: all that waits ends with the server's words. The protocol does not keep what a page
  // reads piece by piece, so the page's own question is read twice.
  await p.exposeFunction("refusedBy", async (path, problems) => {
    const words = `${path} is refused: ${problems.map((q) => [q.key, q.what].filter(Boolean).join(": ")).join("; ")}`;
    bench.faults.push(words);
    await context.close({ reason: words });
  });
  await p.addInitScript(() => {
    const asked = window.fetch;
    window.fetch = async (path, ...more) => {
      const r = await asked(path, ...more);
      if (r.headers.get("Content-Type") === "text/event-stream")
        r.clone().text().then((t) => {
          const said = /^event: refusal\ndata: (.*)$/m.exec(t)?.[1];
          if (said) window.refusedBy(path, JSON.parse(said).problems);
        }, () => {}); // it was stopped
      return r;
    };
  });
  p.setDefaultTimeout(patience);
  return p;
}

// opened is the page of a design file of the folder, at a step.
export async function opened(name, step, options) {
  const p = await page(options);
  await p.goto(`${bench.url}#${name}`);
  await goTo(p, step);
  return p;
}

// processorTime is that of all browsers that these tests have started, ms.
function processorTime() {
  const parent = new Map(), own = new Map();
  for (const pid of readdirSync("/proc").filter((n) => /^\d+$/.test(n)))
    try {
      const stat = readFileSync(`/proc/${pid}/stat`, "latin1"), rest = stat.slice(stat.lastIndexOf(")") + 2).split(" ");
      parent.set(+pid, +rest[1]);
      if (stat.includes("(chrom")) own.set(+pid, 10 * (+rest[11] + +rest[12])); // in ticks of 10 ms
    } catch {
      // it has ended
    }
  const ours = (pid) => pid === process.pid || (parent.has(pid) && ours(parent.get(pid)));
  return [...own].filter(([pid]) => ours(pid)).reduce((sum, [, ms]) => sum + ms, 0);
}

// rate prints how many frames a second a page reaches that does something at each, and the processor time of a frame.
export async function rate(p, what, each) {
  const before = processorTime();
  const r = await p.evaluate(`(async () => {
    const begun = performance.now();
    let frames = 0;
    for (; performance.now() - begun < 5000; frames++) {
      ${each};
      await new Promise(requestAnimationFrame);
    }
    return { frames, seconds: (performance.now() - begun) / 1000 };
  })()`);
  console.log(`${what}: ${(r.frames / r.seconds).toFixed(0)} frames a second, ${((processorTime() - before) / r.frames).toFixed(1)} ms of processor time each`);
  return r.frames;
}

export const goTo = (p, name) => p.getByRole("navigation").getByRole("button", { name, exact: true }).click();
export const shot = (p, name) => p.screenshot({ path: join(shots, `${name}.png`), fullPage: true });

export async function eventually(what, ok, ms = 15_000) {
  for (const end = Date.now() + ms; Date.now() < end; await new Promise((r) => setTimeout(r, 100))) if (await ok()) return;
  assert.fail(what);
}

export async function save(p, button) {
  const [d] = await Promise.all([p.waitForEvent("download"), button.click()]);
  const at = join(scratch, d.suggestedFilename());
  await d.saveAs(at);
  return { name: d.suggestedFilename(), text: readFileSync(at, "latin1") };
}

// accessible demands that axe finds nothing serious by WCAG 2.2 A and AA.
export async function accessible(p, where) {
  await p.evaluate(axeSource + "\nvoid 0"); // not a script of the page: its policy stands
  const found = await p.evaluate(() => window.axe.run(document, { runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] }));
  const bad = found.violations.filter((v) => ["serious", "critical"].includes(v.impact)).map((v) => `${where}: ${v.id}: ${v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160)).join(" | ")}`);
  assert.deepEqual(bad, []);
}

// everySize looks at a page in light and dark, narrow and wide, and lets nothing scroll sideways.
export async function everySize(p, name) {
  for (const [width, height, scheme] of [[1280, 800, "light"], [1280, 800, "dark"], [3840, 2160, "light"], [820, 1180, "dark"]]) {
    await p.emulateMedia({ colorScheme: scheme });
    await p.setViewportSize({ width, height });
    await eventually(`${name} scrolls sideways at ${width}`, () => p.evaluate(() => document.documentElement.scrollWidth <= innerWidth));
    await accessible(p, `${name} ${width} ${scheme}`);
    await shot(p, `${name}-${width}-${scheme}`);
  }
}

before(async () => {
  mkdirSync(folder, { recursive: true });
  mkdirSync(shots, { recursive: true });
  if (!binary) execFileSync("go", ["build", "-o", (binary = join(scratch, "polewright")), "./cmd/polewright"], { cwd: join(here, "../.."), stdio: "inherit" });
  browser = await launch(onSwiftShader);
  await start();
});
after(async () => {
  await browser?.close();
  bench.server?.kill("SIGKILL");
  rmSync(scratch, { recursive: true, force: true });
});
afterEach(async () => {
  for (const c of browser.contexts()) await c.close();
  const found = bench.faults;
  bench.faults = [];
  assert.deepEqual(found, [], "faults in the console, or questions to somebody else");
});
