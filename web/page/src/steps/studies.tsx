// Many designs at once: a sweep, the spread of builds, a search. The server runs a study and keeps it; this page says what is wanted and hears of it.
import { signal, useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { ask, away, stopped, stream, words, type Schemas } from "../ask";
import { asked, change, file, look, notice, sound, step, text } from "../bench";
import { Chart, saveDownload, type Curve } from "../chart";
import { Bar, Fields, nameOf } from "../parts";
import { figures, inches, lengthFactor, lengthUnit, seconds } from "../units";

type Study = Schemas["Study"];
type StudyRow = Schemas["StudyRow"];
type Kind = "sweep" | "tolerance" | "search";

const list = signal<Schemas["StudyList"] | null>(null);
const open = signal<Study | null>(null);
const fault = signal("");
const shelf = signal<Schemas["Shelf"] | null>(null);
let following: AbortController | null = null;

// What is wanted.
interface Varied { path: string; also: string; how: "range" | "list"; from: string; to: string; count: string; list: string }
const blank = (): Varied => ({ path: "", also: "", how: "range", from: "", to: "", count: "5", list: "" });
const kind = signal<Kind>("sweep");
const varied = signal<Varied[]>([blank()]);
const accuracy = signal("draft");
const goals = signal([{ most: false, figure: "mass" }]);
const limits = signal<{ figure: string; sign: string; value: string }[]>([]);
const solves = signal("");
const builds = signal("0");

const parameterOf = (path: string) => look.value?.parameters.find((p) => p.path === path);

export async function refreshStudies() {
  try {
    list.value = await ask<Schemas["StudyList"]>("GET", "/api/studies");
    fault.value = "";
  } catch (e) {
    fault.value = words(e);
  }
}

const runs = (s: { state: string }) => s.state === "running" || s.state === "waiting";

// follow hears of a study until it ends.
async function follow(name: string) {
  following?.abort();
  const abort = (following = new AbortController());
  try {
    let s = await ask<Study>("GET", `/api/studies/${name}`, undefined, abort.signal);
    open.value = s;
    if (!runs(s)) return;
    s = await stream<Study>("/api/follow", { study: name, rows: s.rows.length }, abort.signal, (event, data) => {
      if (abort.signal.aborted || !open.value) return;
      if (event === "standing") open.value = { ...open.value, ...(data as Schemas["Standing"]) };
      if (event === "rows") open.value = { ...open.value, rows: [...open.value.rows, ...(data as StudyRow[])] };
    });
    if (abort.signal.aborted) return;
    open.value = s;
    notice.value = `The ${s.kind === "tolerance" ? "study of builds" : s.kind} is ${s.state}${s.rows.length ? `: ${s.done} solved${s.failed ? `, ${s.failed} failed` : ""}` : ""}.`;
  } catch (e) {
    if (!abort.signal.aborted && !stopped(e) && !away.value) fault.value = words(e);
  } finally {
    if (!abort.signal.aborted) void refreshStudies();
  }
}

async function deed(path: string, name: string) {
  try {
    await ask("POST", path, { study: name });
    fault.value = "";
    await follow(name);
  } catch (e) {
    fault.value = words(e);
  }
}

async function remove(name: string) {
  try {
    await ask("DELETE", `/api/studies/${name}`);
    if (open.value?.name === name) open.value = null;
    await refreshStudies();
  } catch (e) {
    fault.value = words(e);
  }
}

async function table(name: string) {
  try {
    saveDownload(await ask<Schemas["Download"]>("POST", "/api/table", { study: name }));
  } catch (e) {
    fault.value = words(e);
  }
}

// take puts a row's parameters into the design; undo takes them out again.
async function take(r: StudyRow) {
  try {
    await change(...r.settings);
    notice.value = "Taken into the design. Undo brings the one before back.";
    step.value = "answer";
  } catch (e) {
    fault.value = words(e);
  }
}

const withUnit = (v: string, unit: string | undefined) => (unit && /^[-+−]?[\d.,]+$/.test(v.trim()) ? `${v.trim().replace(",", ".")} ${["mm", "in"].includes(unit) ? lengthUnit() : unit}` : v.trim().replace(/^(\d+),(\d+)/, "$1.$2"));

function variation(v: Varied): string {
  const unit = parameterOf(v.path)?.unit;
  const paths = v.path + (v.also ? ` & ${v.also}` : "");
  if (v.how === "list" || parameterOf(v.path)?.kind === "text") return `${paths} = ${v.list.split(",").map((x) => withUnit(x, unit)).join(", ")}`;
  return `${paths} = ${withUnit(v.from, unit)} .. ${withUnit(v.to, unit)} in ${v.count.trim()}`;
}

function designs(): number {
  return varied.value.reduce((n, v) => n * (v.how === "list" || parameterOf(v.path)?.kind === "text" ? v.list.split(",").filter((x) => x.trim()).length : Number(v.count) || 0), 1);
}

async function begin() {
  const k = kind.value;
  const stock = shelf.value && shelf.value.version && shelf.value.problems.length === 0 ? shelf.value.text : "";
  const q: Schemas["Studying"] = { ...asked(), kind: k, accuracy: accuracy.value, ...(k !== "tolerance" ? { vary: varied.value.map(variation), stock } : { solves: Number(builds.value) || 0, seed: 1 }) };
  if (k === "search") {
    q.least = goals.value.filter((g) => !g.most).map((g) => g.figure);
    q.most = goals.value.filter((g) => g.most).map((g) => g.figure);
    q.limits = limits.value.filter((l) => l.value.trim()).map((l) => `${l.figure} ${l.sign} ${withUnit(l.value, list.value?.figures.find((f) => f.name === l.figure)?.show)}`);
    q.solves = Number(solves.value) || 0;
  }
  try {
    const s = await ask<Study>("POST", "/api/studies", q);
    fault.value = "";
    void refreshStudies();
    await follow(s.name);
  } catch (e) {
    fault.value = words(e);
  }
}

const can = (p: Schemas["Parameter"]) => !p.path.startsWith("tolerance.") && !/\.(name|shape|axis)$/.test(p.path) && p.path !== "layout.kind" && (p.given || p.path.startsWith("layout."));

function Vary({ v, i }: { v: Varied; i: number }) {
  const set = (to: Partial<Varied>) => (varied.value = varied.value.map((x, j) => (j === i ? { ...x, ...to } : x)));
  const all = (look.value?.parameters ?? []).filter(can);
  const p = parameterOf(v.path);
  const choose = (path: string) => {
    const q = parameterOf(path);
    const m = /^\s*([-+−]?[\d.]+)/.exec(q?.value ?? "");
    const x = m ? Number(m[1]!.replace("−", "-")) : NaN;
    set(Number.isFinite(x) ? { path, also: "", how: "range", from: String(+(0.8 * x).toPrecision(3)), to: String(+(1.2 * x).toPrecision(3)), list: "" } : { path, also: "", how: "list", list: q?.value ?? "" });
  };
  const groups: [string, (p: Schemas["Parameter"]) => boolean][] = [["Layout", (q) => q.path.startsWith("layout.")], ["Parts", (q) => !q.path.startsWith("layout.") && !q.path.startsWith("target.")], ["Wishes", (q) => q.path.startsWith("target.")]];
  const options = (want: (q: Schemas["Parameter"]) => boolean) => groups.map(([name, of]) => [name, all.filter((q) => of(q) && want(q))] as const).filter(([, qs]) => qs.length).map(([name, qs]) => <optgroup key={name} label={name}>{qs.map((q) => <option key={q.path} value={q.path}>{`${q.path.startsWith("layout.") || q.path.startsWith("target.") ? nameOf(q.path) : q.path}, now ${q.value || "not set"}`}</option>)}</optgroup>);
  const words = p?.kind === "text";
  return (
    <fieldset class="inset">
      <legend>{p ? nameOf(p.path) : `Parameter ${i + 1}`}</legend>
      <div class="row">
        <label>Vary <select value={v.path} onChange={(e) => choose(e.currentTarget.value)}><option value="">choose a parameter</option>{options(() => true)}</select></label>
        {p && !words && <label>values <select value={v.how} onChange={(e) => set({ how: e.currentTarget.value as Varied["how"] })}><option value="range">from … to</option><option value="list">a list</option></select></label>}
        {p && !words && v.how === "range" && (
          <>
            <label>from <input type="text" inputMode="decimal" size={8} value={v.from} onInput={(e) => set({ from: e.currentTarget.value })} /></label>
            <label>to <input type="text" inputMode="decimal" size={8} value={v.to} onInput={(e) => set({ to: e.currentTarget.value })} /></label>
            <span>{["mm", "in"].includes(p.unit ?? "") ? lengthUnit() : p.unit}</span>
            <label>in <input type="text" inputMode="numeric" size={4} value={v.count} onInput={(e) => set({ count: e.currentTarget.value })} /> values</label>
          </>
        )}
        {p && (words || v.how === "list") && <label>values, with commas <input type="text" size={32} value={v.list} onInput={(e) => set({ list: e.currentTarget.value })} placeholder={words ? "N42, N45, N48" : `14, 16, 18 ${p.unit ?? ""}`} /></label>}
        {varied.value.length > 1 && <button type="button" onClick={() => (varied.value = varied.value.filter((_, j) => j !== i))} aria-label={`Take away ${p ? nameOf(p.path) : `parameter ${i + 1}`}`}>Take away</button>}
      </div>
      {p && !v.path.startsWith("layout.") && <div class="row"><label>Give the same value to <select value={v.also} onChange={(e) => set({ also: e.currentTarget.value })}><option value="">nothing else</option>{options((q) => q.kind === p.kind && q.path !== v.path && q.path.split(".").at(-1) === v.path.split(".").at(-1))}</select></label></div>}
    </fieldset>
  );
}

function Wanted() {
  const k = kind.value;
  const names = list.value?.figures ?? [];
  const n = designs();
  const ready = sound.value && (k === "tolerance" || varied.value.every((v) => v.path));
  const figure = (value: string, on: (name: string) => void, label: string) => <select aria-label={label} value={value} onChange={(e) => on(e.currentTarget.value)}>{names.map((f) => <option key={f.name} value={f.name}>{f.name}{f.show ? `, ${f.show}` : ""}</option>)}</select>;
  return (
    <section>
      <h3>A new study of {file.value?.name}</h3>
      <div class="choices" role="group" aria-label="Kind of study">
        {([["sweep", "Sweep"], ["tolerance", "How builds will differ"], ["search", "Search"]] as [Kind, string][]).map(([v, name]) => <button key={v} type="button" aria-pressed={k === v} onClick={() => (kind.value = v)}>{name}</button>)}
      </div>
      <p>{{ sweep: "Solve the design at every value of the parameters that you choose, and see what each gives.", tolerance: "Let magnets, gap, winding and temperature stray as in a workshop: how the field spreads, which cause has which share, how many builds meet the target, which shims help.", search: "Find the lightest, the cheapest or the strongest design that keeps its limits, with few solves; with two aims the front between both." }[k]}</p>
      {k !== "tolerance" && (
        <>
          {varied.value.map((v, i) => <Vary key={i} v={v} i={i} />)}
          <p class="row">
            {varied.value.length < 6 && <button type="button" onClick={() => (varied.value = [...varied.value, blank()])}>Vary another</button>}
            <span>{varied.value.every((v) => v.path) && n > 0 ? `${n} designs${k === "search" ? ", of which a small part is solved" : ""}` : ""}</span>
          </p>
        </>
      )}
      {k === "search" && (
        <div class="inset">
          {goals.value.map((g, i) => (
            <p class="row" key={i}>
              <span>{i === 0 ? "Find the" : "and the"}</span>
              <select aria-label={`Aim ${i + 1}: least or most`} value={g.most ? "most" : "least"} onChange={(e) => (goals.value = goals.value.map((x, j) => (j === i ? { ...x, most: e.currentTarget.value === "most" } : x)))}><option value="least">least</option><option value="most">most</option></select>
              {figure(g.figure, (name) => (goals.value = goals.value.map((x, j) => (j === i ? { ...x, figure: name } : x))), `Aim ${i + 1}: figure`)}
              {i === 1 && <button type="button" onClick={() => (goals.value = goals.value.slice(0, 1))}>One aim alone</button>}
            </p>
          ))}
          {goals.value.length === 1 && <p class="row"><button type="button" onClick={() => (goals.value = [...goals.value, { most: true, figure: "gap field" }])}>A second aim: the front between both</button></p>}
          {limits.value.map((l, i) => (
            <p class="row" key={i}>
              <span>keeping</span>
              {figure(l.figure, (name) => (limits.value = limits.value.map((x, j) => (j === i ? { ...x, figure: name } : x))), `Limit ${i + 1}: figure`)}
              <select aria-label={`Limit ${i + 1}: sign`} value={l.sign} onChange={(e) => (limits.value = limits.value.map((x, j) => (j === i ? { ...x, sign: e.currentTarget.value } : x)))}><option value=">=">at least</option><option value="<=">at most</option></select>
              <input type="text" size={10} aria-label={`Limit ${i + 1}: value with its unit`} value={l.value} onInput={(e) => (limits.value = limits.value.map((x, j) => (j === i ? { ...x, value: e.currentTarget.value } : x)))} placeholder="0.8 T" />
              <button type="button" onClick={() => (limits.value = limits.value.filter((_, j) => j !== i))} aria-label={`Take away limit ${i + 1}`}>Take away</button>
            </p>
          ))}
          <p class="row"><button type="button" onClick={() => (limits.value = [...limits.value, { figure: "gap field", sign: ">=", value: "" }])}>Add a limit</button>{limits.value.length === 0 && <small>Without one, what you need (step 1) is the limit.</small>}</p>
          <p class="row"><label>Most solves <input type="text" inputMode="numeric" size={6} value={solves.value} onInput={(e) => (solves.value = e.currentTarget.value)} placeholder="usual" /></label>{goals.value.some((g) => g.figure === "cost") && <small>{shelf.value?.version ? `Prices from ${shelf.value.name} in the folder.` : "Costs need a list of stock: the Build page takes one."}</small>}</p>
        </div>
      )}
      {k === "tolerance" && (
        <>
          <details class="inset"><summary>How parts stray: one standard deviation of each; what is not set is taken as usual</summary><Fields test={(p) => p.startsWith("tolerance.")} /></details>
          <p class="row"><label>Builds to solve one by one beside it <input type="text" inputMode="numeric" size={6} value={builds.value} onInput={(e) => (builds.value = e.currentTarget.value)} /></label><small>0: thousands of builds are drawn from the sensitivities, which takes two solves a cause.</small></p>
        </>
      )}
      <p class="row">
        <label>Accuracy <select value={accuracy.value} onChange={(e) => (accuracy.value = e.currentTarget.value)}><option value="draft">draft, soonest</option><option value="standard">standard</option></select></label>
        <button type="button" class="main" disabled={!ready} onClick={() => void begin()}>Start the study</button>
      </p>
    </section>
  );
}

const states: Record<string, string> = { waiting: "waits", running: "runs", done: "done", stopped: "stopped", interrupted: "interrupted", failed: "failed" };

function Known() {
  const studies = (list.value?.studies ?? []).map((s) => (s.name === open.value?.name ? open.value : s));
  if (studies.length === 0) return null;
  return (
    <section>
      <h3>Studies of this folder</h3>
      <div class="wide">
        <table class="list">
          <thead><tr><th scope="col">Begun</th><th scope="col">Kind</th><th scope="col">Design</th><th scope="col">State</th><th scope="col">Solved</th><th scope="col"><span class="visually-hidden">Do</span></th></tr></thead>
          <tbody>
            {studies.map((s) => {
              const when = new Date(s.begun).toLocaleString();
              return (
                <tr key={s.name} class={s.state === "failed" ? "bad" : ""}>
                  <th scope="row">{when}</th><td>{s.kind}</td><td>{s.file || "–"}</td><td>{states[s.state] ?? s.state}</td>
                  <td class="number">{s.done}{s.total ? ` of ${s.total}` : ""}{s.failed ? `, ${s.failed} failed` : ""}</td>
                  <td class="row">
                    <button type="button" aria-pressed={open.value?.name === s.name} onClick={() => void follow(s.name)} aria-label={`Show the ${s.kind} of ${when}`}>Show</button>
                    {!runs(s) && s.state !== "done" && <button type="button" onClick={() => void deed("/api/resume", s.name)} aria-label={`Go on with the ${s.kind} of ${when}`}>Go on</button>}
                    {!runs(s) && <button type="button" onClick={() => void remove(s.name)} aria-label={`Take away the ${s.kind} of ${when}`}>Take away</button>}
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
      <p><small>They lie in {list.value?.folder}, with the answers of their solves: the same design is not solved twice.</small></p>
    </section>
  );
}

const shownFigure = signal("");

// unit in which a figure or a value is shown.
const scaleOf = (f: Schemas["StudyFigure"]) => (f.show === "mm" && inches.value ? { times: 1 / 0.0254, unit: "in" } : { times: f.times, unit: f.show });
const named = (name: string, unit: string) => (unit ? `${name}, ${unit}` : name);

// apart moves points of one curve that share an x by nothing that can be seen, so that the chart keeps them all.
function apart(x: number[]): number[] {
  const seen = new Set<number>();
  return x.map((v) => {
    let w = v;
    for (let k = 1; seen.has(w); k++) w = v * (1 + k * 1e-9) + k * 1e-15;
    seen.add(w);
    return w;
  });
}

function SweepChart({ s }: { s: Study }) {
  const name = s.figures.some((f) => f.name === shownFigure.value) ? shownFigure.value : s.figures[0]?.name;
  const f = s.figures.find((g) => g.name === name);
  const k = s.paths.findIndex((_, i) => s.rows.some((r) => r.values[i] !== null && r.values[i] !== undefined));
  if (!f || s.rows.length === 0) return null;
  const y = scaleOf(f);
  const groups = new Map<string, StudyRow[]>();
  for (const r of [...s.rows].sort((a, b) => a.index - b.index)) {
    const rest = s.paths.map((p, i) => (i === k ? "" : `${p.split(".").at(-1)} ${settingOf(s, r, i)}`)).filter(Boolean).join(", ");
    groups.set(rest, [...(groups.get(rest) ?? []), r]);
  }
  const most = 8;
  const curves: Curve[] = [...groups].slice(0, most).map(([rest, rows]) => {
    const with_ = rows.filter((r) => r.figures[f.name] !== undefined && (k < 0 || typeof r.values[k] === "number"));
    const sorted = k < 0 ? with_ : with_.sort((a, b) => a.values[k]! - b.values[k]!);
    return { name: rest || f.name, x: sorted.map((r) => (k < 0 ? r.index + 1 : r.values[k]!)), y: sorted.map((r) => r.figures[f.name]! * y.times), points: k < 0 || sorted.length < 2 };
  }).filter((c) => c.x.length);
  return (
    <>
      <p class="row"><label>Show <select value={name} onChange={(e) => (shownFigure.value = e.currentTarget.value)}>{s.figures.map((g) => <option key={g.name} value={g.name}>{g.name}</option>)}</select></label>{groups.size > most && <small>The first {most} of {groups.size} curves; the table has all.</small>}</p>
      {curves.length > 0 && <Chart title={`${f.name} against ${k < 0 ? "the designs" : s.paths[k]}`} xName={k < 0 ? "number in the table" : named(s.paths[k]!, s.units[k]!)} yName={named(f.name, y.unit)} curves={curves} height={320} />}
    </>
  );
}

function settingOf(s: Study, r: StudyRow, i: number): string {
  const first = s.paths[i]!.split(" & ")[0];
  return r.settings.find((x) => x.path === first)?.value ?? "";
}

function FrontChart({ s }: { s: Study }) {
  const goals = s.goals.map((g) => s.figures.find((f) => g === `least ${f.name}` || g === `most ${f.name}`)!);
  const x = goals[0]!, y = goals[1] ?? s.figures.find((f) => f.name === "gap field" && f.name !== x.name) ?? s.figures.find((f) => f.name !== x.name)!;
  const xs = scaleOf(x), ys = scaleOf(y);
  const curve = (name: string, rows: StudyRow[]): Curve => {
    const known = rows.filter((r) => r.figures[x.name] !== undefined && r.figures[y.name] !== undefined).sort((a, b) => a.figures[x.name]! - b.figures[x.name]!);
    return { name, x: apart(known.map((r) => r.figures[x.name]! * xs.times)), y: known.map((r) => r.figures[y.name]! * ys.times), points: true };
  };
  const curves = [curve(goals.length > 1 ? "front" : "best", s.rows.filter((r) => r.best)), curve("keeps the limits", s.rows.filter((r) => r.keeps_limits && !r.best)), curve("does not", s.rows.filter((r) => !r.keeps_limits && !r.error))].filter((c) => c.x.length);
  if (curves.length === 0) return null;
  return <Chart title={`${y.name} against ${x.name}`} xName={named(x.name, xs.unit)} yName={named(y.name, ys.unit)} curves={curves} height={320} />;
}

// Picture is a chart that is drawn by the server, as in the papers.
export function Picture({ c, alt }: { c: Schemas["Charting"]; alt: string }) {
  const svg = useSignal<Schemas["Download"] | null>(null);
  useEffect(() => {
    const scheme = matchMedia("(prefers-color-scheme: dark)");
    const draw = () => void ask<Schemas["Download"]>("POST", "/api/chart", { ...c, dark: scheme.matches }).then((d) => (svg.value = d), (e: unknown) => (fault.value = words(e)));
    draw();
    scheme.addEventListener("change", draw);
    return () => scheme.removeEventListener("change", draw);
  }, [c]);
  return (
    <figure class="chart">
      <figcaption><span>{c.title}</span><span class="tools"><button type="button" disabled={!svg.value} onClick={() => saveDownload(svg.value!, `${c.title.replaceAll(" ", "-")}.svg`)} aria-label={`Save "${c.title}" as SVG`}>SVG</button></span></figcaption>
      {svg.value && <img class="picture" src={`data:image/svg+xml;base64,${svg.value.base64}`} alt={alt} />}
    </figure>
  );
}

const percent = (x: number, n = 3) => `${figures(100 * x, n)} %`;
function spreadText(x: number, unit: string): string {
  if (unit === "1") return percent(x, 2);
  if (unit === "m") return `${figures(x * lengthFactor(), 2)} ${lengthUnit()}`;
  if (unit === "rad") return `${figures((180 / Math.PI) * x, 2)}°`;
  return `${figures(x, 2)} ${unit}`;
}

function Spread({ t }: { t: Schemas["ToleranceSeen"] }) {
  const share = (y: Schemas["Share"]) => `${percent(y.share)} (${figures(100 * y.low, 3)} to ${figures(100 * y.high, 3)} %)`;
  const total = (i: number, j: number) => t.figures[i]!.causes.find((c) => c.source === j)?.total ?? 0;
  const order = t.sources.map((_, j) => j).sort((a, b) => Math.max(...t.figures.map((_, i) => total(i, b))) - Math.max(...t.figures.map((_, i) => total(i, a))));
  return (
    <>
      {t.yield && <p><strong>{share(t.yield)}</strong> of builds meet the target{t.yield_by_solves ? `; of those solved one by one ${share(t.yield_by_solves)}` : ""}.</p>}
      <div class="wide">
        <table class="list">
          <caption>{t.builds} builds drawn from the sensitivities{t.solves ? `, ${t.solves} solved one by one` : ""}</caption>
          <thead><tr><th scope="col">Figure</th><th scope="col">Design</th><th scope="col">Mean</th><th scope="col">Standard deviation</th><th scope="col">95 % of builds</th><th scope="col">Keep the limit</th></tr></thead>
          <tbody>{t.figures.map((f) => <tr key={f.what}><th scope="row">{f.what}</th><td class="number">{figures(f.design, 5)} {f.unit}</td><td class="number">{figures(f.by_sensitivities.mean, 5)} {f.unit}</td><td class="number">{figures(f.by_sensitivities.sd, 3)} {f.unit}</td><td class="number">{figures(f.by_sensitivities.p2_5, 4)} to {figures(f.by_sensitivities.p97_5, 4)} {f.unit}</td><td class="number">{f.within ? percent(f.within.share) : "–"}</td></tr>)}</tbody>
        </table>
      </div>
      <div class="two">{t.histograms.map((c, i) => <Picture key={i} c={c} alt={`Histogram of the builds’ ${c.title}; its numbers are in the table`} />)}</div>
      <div class="wide">
        <table class="list">
          <caption>Causes, the largest first: share of the variance, with what a cause does together with others</caption>
          <thead><tr><th scope="col">Cause</th><th scope="col">Strays by</th>{t.figures.map((f) => <th key={f.what} scope="col">{f.what}</th>)}</tr></thead>
          <tbody>
            {order.filter((j) => t.figures.some((_, i) => total(i, j) >= 5e-4)).slice(0, 16).map((j) => (
              <tr key={j}>
                <th scope="row">{t.sources[j]!.what}</th>
                <td class="number">{spreadText(t.sources[j]!.spread, t.sources[j]!.unit)}{!t.sources[j]!.given && <small> usual</small>}</td>
                {t.figures.map((f, i) => <td key={f.what} class="number">{total(i, j) < 5e-4 ? "–" : percent(total(i, j), 2)} <svg class="share" viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true"><rect width={100 * Math.min(1, total(i, j))} height="8" /></svg></td>)}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {t.trim && <p>Shims of {t.trim.shims_m.map((m) => `${figures(m * lengthFactor(), 3)}`).join(", ")} {lengthUnit()} at each spacer, which is made {figures(t.trim.spacer_shorter_by_m * lengthFactor(), 3)} {lengthUnit()} shorter, bring {percent(t.trim.yield_with.share)} into the target, without them {percent(t.trim.yield_without.share)}.{t.trim.not_cured.length ? ` Shims do not cure: ${t.trim.not_cured.join(", ")}.` : ""}</p>}
      {t.notes.map((n) => <p key={n}><small>{n}.</small></p>)}
    </>
  );
}

function Rows({ s }: { s: Study }) {
  const by = useSignal<{ column: string; down: boolean } | null>(null);
  const all = useSignal(false);
  const value = (r: StudyRow, column: string): number => (column.startsWith("#") ? (r.values[+column.slice(1)] ?? r.index) : (r.figures[column] ?? Infinity));
  const rank = (r: StudyRow) => (r.best ? 0 : r.keeps_limits ? 1 : 2);
  const rows = [...s.rows].sort((a, b) => (by.value ? (value(a, by.value.column) - value(b, by.value.column)) * (by.value.down ? -1 : 1) : 0) || (s.kind === "search" && !by.value ? rank(a) - rank(b) : 0) || a.index - b.index);
  const most = 100;
  const shown = all.value ? rows : rows.slice(0, most);
  const head = (column: string, name: string) => {
    const on = by.value?.column === column;
    return <th key={column} scope="col" aria-sort={on ? (by.value!.down ? "descending" : "ascending") : "none"}><button type="button" class="head" onClick={() => (by.value = { column, down: on ? !by.value!.down : false })}>{name}{on ? (by.value!.down ? " ↓" : " ↑") : ""}</button></th>;
  };
  if (s.rows.length === 0) return null;
  const take_ = s.kind !== "tolerance" && s.asked.file === (file.value?.name ?? "");
  return (
    <>
      <div class="wide">
        <table class="list">
          <caption>{s.kind === "tolerance" ? "Builds that were solved one by one" : "Designs"}</caption>
          <thead>
            <tr>
              {s.kind === "tolerance" && <th scope="col">Build</th>}
              {s.paths.map((p, i) => head(`#${i}`, p))}
              {s.figures.map((f) => head(f.name, named(f.name.replaceAll("_", " "), f.name.includes("_") ? "" : scaleOf(f).unit)))}
              {s.kind === "search" && <th scope="col">Limits</th>}
              <th scope="col"><span class="visually-hidden">Take</span></th>
            </tr>
          </thead>
          <tbody>
            {shown.map((r) => (
              <tr key={r.index} class={r.best ? "good" : ""}>
                {s.kind === "tolerance" && <th scope="row">{r.index + 1}</th>}
                {s.paths.map((_, i) => <td key={i} class="number">{settingOf(s, r, i)}</td>)}
                {r.error ? <td colSpan={s.figures.length} class="fault">{r.error}</td> : s.figures.map((f) => <td key={f.name} class="number">{r.figures[f.name] === undefined ? "–" : figures(r.figures[f.name]! * scaleOf(f).times, 4)}</td>)}
                {s.kind === "search" && <td>{r.best ? (s.goals.length > 1 ? "on the front" : "best") : r.keeps_limits ? "kept" : r.error ? "" : "not kept"}</td>}
                <td>{take_ && !r.error && <button type="button" onClick={() => void take(r)} aria-label={`Take this design: ${r.settings.map((x) => `${x.path} ${x.value}`).join(", ")}`}>Take this design</button>}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p class="row">
        {rows.length > most && !all.value && <button type="button" onClick={() => (all.value = true)}>Show all {rows.length}</button>}
        <button type="button" onClick={() => void table(s.name)}>Save the table as CSV</button>
        {s.kind !== "tolerance" && !take_ && <small>It is a study of {s.asked.file}: open that design to take one.</small>}
        {take_ && s.asked.text !== text.value && <small>The design was changed since: a row’s parameters are put into it as it is now.</small>}
      </p>
    </>
  );
}

function Shown({ s }: { s: Study }) {
  const on = runs(s);
  const counts = [s.total ? `${s.done} of ${s.total} solved` : `${s.done} solved`, s.failed ? `${s.failed} failed` : "", s.known ? `${s.known} known before` : "", s.running ? `${s.running} being solved` : "", on && s.left_s > 0 ? `about ${seconds(s.left_s)} left` : ""].filter(Boolean).join(", ");
  return (
    <section aria-label="The study" class="study">
      <h3>{({ sweep: "Sweep", search: "Search", tolerance: "How builds will differ" } as Record<string, string>)[s.kind] ?? s.kind}{s.title ? `: ${s.title}` : ""} <small>{states[s.state]}</small></h3>
      {s.goals.length > 0 && <p>Wanted: {s.goals.join(" and ")}. Limits: {s.limits.length ? s.limits.join("; ") : "none"}.</p>}
      {on && <Bar p={{ what: s.state === "waiting" ? "waits for the study before it" : s.what || "begins", done: s.share }} onCancel={() => void ask("POST", "/api/stop", { study: s.name }).catch((e: unknown) => (fault.value = words(e)))} what="Progress of the study" />}
      {(on || s.rows.length > 0) && <p class="standing" aria-live={on ? "off" : "polite"}>{counts}.</p>}
      {s.why && <p class="fault" role="alert">{s.why}</p>}
      {(s.state === "stopped" || s.state === "interrupted") && <p class="row">{s.state === "interrupted" ? "The bench was ended in the midst of it." : "Stopped."} What is solved is kept. <button type="button" class="main" onClick={() => void deed("/api/resume", s.name)}>Go on with it</button></p>}
      {s.found && <p>{s.rows.length} of {s.found.designs} designs were solved{s.found.buildable < s.found.designs ? `; ${s.found.designs - s.found.buildable} cannot be built or bought` : ""}. {s.rows.some((r) => r.best) ? (s.found.finished ? "By what was learned from them, nothing better is likely." : "There may be better ones: allow more solves.") : s.found.nearest !== undefined ? `No design keeps all limits. The nearest: ${s.rows.find((r) => r.index === s.found!.nearest)?.settings.map((x) => `${x.path} ${x.value}`).join(", ") ?? ""}.` : "None could be solved."}</p>}
      {s.kind === "sweep" && <SweepChart s={s} />}
      {s.kind === "search" && s.rows.length > 0 && <FrontChart s={s} />}
      {s.spread && <Spread t={s.spread} />}
      <Rows s={s} />
    </section>
  );
}

export function Studies() {
  useEffect(() => {
    void refreshStudies();
    void ask<Schemas["Shelf"]>("GET", "/api/stock").then((x) => (shelf.value = x), () => {});
    if (open.value) void follow(open.value.name);
    return () => following?.abort();
  }, []);
  // When the server is back, what it knows is asked anew.
  useEffect(() => {
    if (!away.value) {
      void refreshStudies();
      if (open.value) void follow(open.value.name);
    }
  }, [away.value]);
  return (
    <main class="sheet broad" id="main" tabIndex={-1}>
      <h2>Studies: many designs at once</h2>
      {fault.value && <p class="fault" role="alert">{fault.value}</p>}
      <Wanted />
      {open.value && <Shown s={open.value} />}
      <Known />
    </main>
  );
}
