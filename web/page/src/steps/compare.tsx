import { signal, useComputed } from "@preact/signals";
import { ask, words, type Schemas } from "../ask";
import { asked, file, folder, job, look, now, text, type Result } from "../bench";
import { Chart, type Curve } from "../chart";
import { Start } from "../parts";
import { figures, length, lengthFactor, lengthUnit, mass, ppm, tesla } from "../units";

const other = signal("");
const fault = signal("");
const otherText = signal("");
const a = job<Result>(), b = job<Result>();
const lineA = job<Schemas["Trace"]>(), lineB = job<Schemas["Trace"]>();
const names = signal<[string, string]>(["", ""]);
const span = signal(0.1);

async function run() {
  try {
    const f = await ask<Schemas["File"]>("GET", `/api/files/${encodeURIComponent(other.value)}`);
    otherText.value = f.text;
    fault.value = "";
  } catch (e) {
    fault.value = words(e);
    return;
  }
  names.value = [file.value!.name, other.value];
  const effort = { accuracy: "standard" };
  const mine = asked(), theirs = { file: other.value, text: otherText.value };
  const box = look.value?.box;
  span.value = box ? Math.max(...[0, 1, 2].map((i) => box.max_m[i]! - box.min_m[i]!)) : 0.1;
  const ra = await a.run("/api/solve", { ...mine, ...effort });
  const rb = ra && (await b.run("/api/solve", { ...theirs, ...effort }));
  if (!ra || !rb) return;
  const line = (r: Result) => ({ from_m: [r.gap_at_m[0], r.gap_at_m[1], r.gap_at_m[2]! - span.value], to_m: [r.gap_at_m[0], r.gap_at_m[1], r.gap_at_m[2]! + span.value], points: 161 });
  await lineA.run("/api/line", { ...mine, ...effort, ...line(ra) });
  await lineB.run("/api/line", { ...theirs, ...effort, ...line(rb) });
}

const against = (percent: number) => (Math.abs(percent) < 0.005 ? "the same" : `${percent > 0 ? "+" : "−"}${figures(Math.abs(percent), percent < 1 && percent > -1 ? 2 : 3)} %`);

export function Compare() {
  const ra = a.state.value.answer, rb = b.state.value.answer;
  const running = a.state.value.running ? a : b.state.value.running ? b : lineA.state.value.running ? lineA : lineB;
  const curves = useComputed<Curve[]>(() =>
    [lineA.state.value.answer, lineB.state.value.answer].flatMap((t, i) => (t ? [{ name: names.value[i]!, x: t.s_m.map((s) => +((s - span.value) * lengthFactor()).toPrecision(6)), y: t.b_T.map((v) => Math.hypot(v[0]!, v[1]!, v[2]!)) }] : [])),
  );
  const size = (v: number[]) => Math.hypot(...v);
  const steel = (r: Result) => Math.max(...r.parts.filter((p) => p.saturation).map((p) => p.saturation!));
  const reach = (r: Result, t: number) => r.stray.find((s) => Math.abs(s.limit_T - t) < 1e-9)?.largest_m ?? 0;
  const knee = (r: Result) => Math.min(...r.parts.flatMap((p) => (p.working_point?.knee_margin ? [p.working_point.knee_margin] : [])));
  const rows: [string, (r: Result) => number, (x: number) => string][] = [
    ["Field in the gap", (r) => size(r.gap_b_T), (x) => tesla(x, 5)],
    ["Spread over the region", (r) => r.region?.peak_to_peak_ppm ?? NaN, ppm],
    ["Mass", (r) => r.mass_kg, mass],
    ["0.5 mT reaches", (r) => reach(r, 5e-4), (x) => length(x)],
    ["3 mT reaches", (r) => reach(r, 3e-3), (x) => length(x)],
    ["Fullest steel, mean of saturation", (r) => 100 * steel(r), (x) => `${figures(x, 3)} %`],
    ["Least margin to the knee", (r) => 100 * knee(r), (x) => `${figures(x, 3)} %`],
    ["Largest force on a part", (r) => Math.max(...r.parts.map((p) => size(p.force_N))), (x) => `${figures(x, 3)} N`],
  ];
  const files = folder.value?.files.filter((f) => f.name !== file.value?.name) ?? [];
  return (
    <main class="sheet" id="main" tabIndex={-1}>
      <h2>Two designs side by side</h2>
      {files.length === 0 ? <p>There is no second design file in the folder.</p> : (
        <p class="row">
          <label>{file.value?.name} beside <select value={other.value} onChange={(e) => (other.value = e.currentTarget.value)}><option value="">choose a file</option>{files.map((f) => <option key={f.name}>{f.name}</option>)}</select></label>
          <Start work={running} disabled={!other.value || !now.value} onStart={() => void run()}>Solve both</Start>
        </p>
      )}
      {fault.value && <p class="fault" role="alert">{fault.value}</p>}
      {[a, b, lineA].map((j, i) => j.state.value.fault && <p key={i} class="fault" role="alert">{names.value[i % 2]}: {j.state.value.fault}</p>)}
      {ra && rb && (
        <div class={a.state.value.of === text.value ? "" : "stale"}>
          <table class="list">
            <caption>At standard accuracy</caption>
            <thead><tr><th scope="col">What</th><th scope="col">{names.value[0]}</th><th scope="col">{names.value[1]}</th><th scope="col">Second against first</th></tr></thead>
            <tbody>
              {rows.map(([what, get, say]) => {
                const x = get(ra), y = get(rb);
                return (
                  <tr key={what}>
                    <th scope="row">{what}</th>
                    <td class="number">{Number.isFinite(x) ? say(x) : "–"}</td>
                    <td class="number">{Number.isFinite(y) ? say(y) : "–"}</td>
                    <td class="number">{x && Number.isFinite(x) && Number.isFinite(y) ? against(100 * (y / x - 1)) : ""}</td>
                  </tr>
                );
              })}
            </tbody>
          </table>
          {curves.value.length === 2 && <Chart title="Field along z through each gap" xName={`z from the middle of the gap, ${lengthUnit()}`} yName="B, T" curves={curves.value} />}
        </div>
      )}
    </main>
  );
}
