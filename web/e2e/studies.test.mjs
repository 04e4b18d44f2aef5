// Measuring, studies and what goes along to the saw, in the browser. All designs, readings and prices here are invented.
import assert from "node:assert/strict";
import { existsSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { accessible, bench, eventually, everySize, folder, goTo, kill, opened, patience, save, shot, start } from "./bench.mjs";

const block = (name, z, remanence) => `[[magnet]]\nname = "${name}"\nshape = "block"\nsize = ["40 mm", "40 mm", "10 mm"]\ncenter = ["0 mm", "0 mm", "${z} mm"]\nmagnetized = [0, 0, 1]\nremanence = "${remanence} T"\nrecoil = 1.05\n`;
const pair = `format = 1\ntitle = "bench pair (invented)"\n[target]\nfield = "0.29 T"\nregion = { shape = "sphere", diameter = "6 mm" }\nuniformity = "3 %"\n${block("upper", 15, 1.2)}${block("lower", -15, 1.2)}`;
const alone = `format = 1\ntitle = "one magnet (invented)"\n[target]\nfield = "0.1 T"\n${block("one", 0, 1.2)}[[probe]]\nname = "above"\nat = ["0 mm", "0 mm", "15 mm"]\n`;
const small = 'format = 1\ntitle = "small pair (invented)"\n[layout]\nkind = "facing-pair"\n';
const framed = 'format = 1\ntitle = "framed pair (invented)"\n[target]\nfield = "0.6 T"\n[layout]\nkind = "framed-pair"\n';

// readings of a pair whose upper magnet is 4 % weak: the program's own field of that pair, asked for over its interface, with a little noise.
async function readings() {
  const text = pair.replace('remanence = "1.2 T"', 'remanence = "1.152 T"');
  const lines = ["# probe: point", "# operator: invented", "x_mm,y_mm,z_mm,Bz_mT,T_degC"];
  let k = 0;
  for (const x of [-8, 0, 8]) {
    const r = await fetch(`${bench.url}api/line`, { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ text, accuracy: "draft", from_m: [x / 1e3, 0, -0.008], to_m: [x / 1e3, 0, 0.008], points: 9 }) });
    const events = (await r.text()).split("\n\n").filter((e) => e.startsWith("event: answer"));
    const trace = JSON.parse(events[0].split("\n")[1].slice("data: ".length));
    trace.b_T.forEach((b, i) => lines.push(`${x},0,${-8 + 2 * i},${(b[2] * 1e3 + 0.15 * Math.sin(7 * k++)).toFixed(3)},20`));
  }
  return lines.join("\n") + "\n";
}

test("measure: a log with a mistake, a good one, the verdict, the papers, a reload", async () => {
  writeFileSync(join(folder, "pair.toml"), pair);
  const p = await opened("pair.toml", "Measure");
  await p.getByText("There is no log yet").waitFor();
  const choose = p.getByLabel(/Drop a log here/);
  await choose.setInputFiles({ name: "bad.csv", mimeType: "text/csv", buffer: Buffer.from("x_mm,y_mm,z_mm,Bz_mT\n0,0,0,wide\n") });
  await p.getByText("A mistake in pair.readings.csv").waitFor();
  assert.match(await p.locator(".problems").innerText(), /pair\.readings\.csv:2, column Bz_mT: /);
  await accessible(p, "bad log");
  await shot(p, "measure-mistake");
  const log = await readings();
  await choose.setInputFiles({ name: "good.csv", mimeType: "text/csv", buffer: Buffer.from(log) });
  await p.locator(".verdict").waitFor();
  assert.equal(readFileSync(join(folder, "pair.readings.csv"), "utf8"), log, "the log is kept as it was");
  const said = await p.getByRole("region", { name: "Verdict" }).innerText();
  assert.match(said, /upper is [34]\.\d+ ± \d\.\d+ % weak/);
  assert.match(said, /As built/);
  await p.locator(".residuals .mark").first().waitFor();
  assert.equal(await p.locator(".residuals .mark").count(), 27);
  // In the view, too, each at its place.
  await p.getByRole("img", { name: /^Colours of Bz, read less predicted from ■ −\d+ mT to ● \+\d+ mT$/ }).waitFor();
  const canvas = p.locator(".canvas > canvas");
  await canvas.scrollIntoViewIfNeeded();
  const box = await canvas.boundingBox(), at = await p.evaluate(() => window.benchView.project([0.008, 0, 0.008]));
  await p.mouse.move(box.x + at.x + 40, box.y + at.y + 40);
  await p.mouse.move(box.x + at.x, box.y + at.y);
  await p.locator(".hover", { hasText: /^Bz at 8, 0, 8 mm: read [\d.]+ mT, predicted [\d.]+ mT, difference −[\d.]+ ± [\d.]+ mT \(line \d+\)/ }).waitFor();
  await shot(p, "measure-view");
  await everySize(p, "measure");
  await p.setViewportSize({ width: 1440, height: 900 });
  await p.getByLabel("Seen in the plane").selectOption("12");
  const sheet = await save(p, p.getByRole("button", { name: "Sheet as PDF" }));
  assert.match(sheet.text, /^%PDF-/);
  const blank = await save(p, p.getByRole("button", { name: "Log to fill in (CSV)" }));
  assert.match(blank.text, /^x_mm,y_mm,z_mm/m);
  const certificate = await save(p, p.getByRole("button", { name: "Certificate as PDF" }));
  assert.match(certificate.text, /^%PDF-/);
  await p.reload();
  await goTo(p, "Measure");
  await p.locator(".verdict").waitFor();
  await p.getByText("27 readings").waitFor();
  await p.getByLabel("Lengths").selectOption("in");
  await p.getByText(/x, in/).first().waitFor();
});

// vary chooses a parameter and a range for it.
async function vary(p, name, from, to, count) {
  const row = p.locator("fieldset").last();
  const value = await row.getByLabel("Vary").locator("option", { hasText: new RegExp(`^${name}, now`) }).getAttribute("value");
  await row.getByLabel("Vary").selectOption(value);
  await row.getByRole("textbox", { name: "from" }).fill(from);
  await row.getByRole("textbox", { name: "to", exact: true }).fill(to);
  await row.getByRole("textbox", { name: "in values" }).fill(count);
}

test("a sweep: rows arrive, a chart, a table, one taken and undone", async () => {
  writeFileSync(join(folder, "small.toml"), small);
  const p = await opened("small.toml", "Studies");
  await vary(p, "Gap", "14", "22", "5");
  await p.getByText("5 designs").waitFor();
  await p.getByRole("button", { name: "Start the study" }).click();
  const study = p.getByRole("region", { name: "The study" });
  await study.getByRole("heading", { name: /done/ }).waitFor();
  assert.match(await study.locator(".standing").innerText(), /5 of 5 solved/);
  await study.locator(".chart .u-wrap").waitFor();
  assert.equal(await study.getByRole("table", { name: "Designs" }).getByRole("row").count(), 6);
  await everySize(p, "sweep");
  await p.setViewportSize({ width: 1440, height: 900 });
  const csv = await save(p, study.getByRole("button", { name: "Save the table as CSV" }));
  assert.match(csv.text, /^index,layout\.gap_m,gap_field_T/);
  assert.equal(csv.text.trim().split("\n").length, 6);
  await study.getByRole("button", { name: "Take this design: layout.gap 22 mm" }).click();
  await eventually("the design has the gap", () => readFileSync(join(folder, "small.toml"), "utf8").includes('gap = "22 mm"'));
  await p.getByRole("button", { name: "Undo" }).click();
  await eventually("undone", () => !readFileSync(join(folder, "small.toml"), "utf8").includes('gap = "22 mm"'));
  // A mistake is answered in words.
  await goTo(p, "Studies");
  await p.getByRole("textbox", { name: "from" }).fill("wide");
  await p.getByRole("button", { name: "Start the study" }).click();
  await p.locator(".fault[role=alert]").waitFor();
  bench.faults = bench.faults.filter((f) => !/\b4\d\d\b/.test(f)); // the browser notes the refusal itself
});

test("a sweep outlives its server: nothing is solved twice; and it can be stopped", async () => {
  writeFileSync(join(folder, "framed.toml"), framed);
  const p = await opened("framed.toml", "Studies");
  await vary(p, "Gap", "14", "26", "25");
  await p.getByRole("button", { name: "Start the study" }).click();
  const study = p.getByRole("region", { name: "The study" });
  const solved = async () => +(/^(\d+) of/.exec(await study.locator(".standing").innerText())?.[1] ?? 0);
  await eventually("some rows arrive while it runs", async () => (await solved()) >= 3, patience);
  await shot(p, "sweep-running");
  await accessible(p, "running");
  const addr = new URL(bench.url).host, before = await solved();
  await kill();
  await p.locator(".banner", { hasText: "does not answer" }).waitFor();
  await start(addr);
  await p.locator(".banner").waitFor({ state: "detached" });
  await study.getByText("The bench was ended in the midst of it.").waitFor();
  await shot(p, "sweep-interrupted");
  await study.getByRole("button", { name: "Go on with it" }).click();
  await eventually("it goes on beyond what was there", async () => (await solved()) > before + 1, patience);
  const known = +(/(\d+) known before/.exec(await study.locator(".standing").innerText())?.[1] ?? 0);
  assert.ok(known >= before - 1, `${before} were solved before, ${known} are known`);
  await study.getByRole("button", { name: "Stop" }).click();
  await study.getByText("Stopped.").waitFor();
  bench.faults = bench.faults.filter((f) => !/ERR_(CONNECTION|EMPTY|INCOMPLETE|SOCKET)|network error|Failed to fetch/.test(f));
});

test("a search for the front between two aims", async () => {
  writeFileSync(join(folder, "searched.toml"), small);
  const p = await opened("searched.toml", "Studies");
  await p.getByRole("button", { name: "Search", exact: true }).click();
  await vary(p, "Magnet z", "6", "20", "8");
  await p.getByRole("button", { name: /A second aim/ }).click();
  await p.getByRole("button", { name: "Add a limit" }).click();
  await p.getByLabel("Limit 1: value with its unit").fill("0.2 T");
  await p.getByRole("button", { name: "Start the study" }).click();
  const study = p.getByRole("region", { name: "The study" });
  await study.getByText(/designs were solved/).waitFor();
  await study.getByText("on the front").first().waitFor();
  await everySize(p, "search");
});

test("how builds will differ", async () => {
  writeFileSync(join(folder, "spread.toml"), alone);
  const p = await opened("spread.toml", "Studies");
  await p.getByRole("button", { name: "How builds will differ" }).click();
  await p.getByRole("button", { name: "Start the study" }).click();
  const study = p.getByRole("region", { name: "The study" });
  await study.getByText(/of builds meet the target/).waitFor();
  await study.getByRole("table", { name: /^Causes/ }).waitFor();
  await study.locator("img.picture").first().waitFor();
  await everySize(p, "spread");
});

test("a limit of cost is judged by the list of stock, once there is one", async () => {
  writeFileSync(join(folder, "priced.toml"), alone.replace('field = "0.1 T"', 'field = "0.1 T"\ncost = "1 EUR"').replace(/remanence.*\nrecoil.*\n/, 'grade = "N42"\n'));
  const p = await opened("priced.toml", "Answer");
  const need = p.getByRole("table", { name: "What you need" }).getByRole("row", { name: /^cost/ });
  assert.match(await need.innerText(), /not known/);
  await p.locator(".figure", { hasText: "Needs" }).getByText(/NOT met|not known/).waitFor();
  await shot(p, "cost-not-known");
  await goTo(p, "Build");
  await p.getByRole("button", { name: "Begin with an invented list" }).click();
  await p.getByText(/of the folder is used/).waitFor();
  await goTo(p, "Answer");
  await need.getByText("NOT met").waitFor();
  assert.match(await need.innerText(), /\d\.\d\d EUR, wanted 1\.00 EUR/);
  await accessible(p, "cost");
  rmSync(join(folder, "stock.csv"));
});

test("stock and prices, steps of assembly, safety card", async () => {
  writeFileSync(join(folder, "built.toml"), framed);
  const p = await opened("built.toml", "Build");
  await p.getByRole("button", { name: "Begin with an invented list" }).click();
  await p.getByRole("table", { name: "To buy" }).waitFor();
  assert.ok(existsSync(join(folder, "stock.csv")));
  const before = readFileSync(join(folder, "stock.csv"), "utf8");
  await save(p, p.getByRole("button", { name: "Save what to buy as CSV" }));
  await p.getByLabel(/Drop a list of stock/).setInputFiles({ name: "mine.csv", mimeType: "text/csv", buffer: Buffer.from("name,shape,material,price_EUR\na,cube,N42,1\n") });
  await p.getByText(/mistakes? in stock\.csv/).waitFor();
  await shot(p, "stock-mistake");
  // The list is mended in the page, and goes whole to the folder.
  const list = p.getByLabel("The list of stock");
  await p.getByRole("button", { name: "stock.csv:2" }).first().click();
  assert.equal(await list.evaluate((a) => a.value.slice(a.selectionStart, a.selectionEnd)), "a,cube,N42,1");
  await list.fill(before.replace(/\n*$/, "\n"));
  await p.getByRole("button", { name: "Keep this list" }).click();
  await p.getByText(/of the folder is used: \d+ lines/).waitFor();
  assert.equal(readFileSync(join(folder, "stock.csv"), "utf8"), before.replace(/\n*$/, "\n"));
  await p.getByRole("table", { name: "To buy" }).waitFor();
  await p.getByRole("button", { name: "Work out the safety card" }).click();
  await p.getByRole("table", { name: /Loose tools/ }).waitFor();
  const card = await save(p, p.getByRole("button", { name: "Save the card as PDF" }));
  assert.match(card.text, /^%PDF-/);
  await p.getByRole("button", { name: "Work out the steps" }).click();
  await p.getByRole("heading", { name: "Taking apart" }).waitFor({ timeout: 3 * patience });
  // Both orders, and what the magnets stand in each state of both.
  const orders = p.getByRole("table", { name: "Legs last or legs first" });
  assert.match(await orders.innerText(), /RECOMMENDED/);
  assert.equal(await orders.locator("tbody tr").count(), 2);
  assert.match(await p.getByRole("table", { name: /^What the magnets stand in each state/ }).innerText(), /\nlegs first \d/);
  await everySize(p, "build-all");
});
