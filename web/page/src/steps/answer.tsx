import { batch, computed, signal, useComputed, useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { ask, words, type Schemas } from "../ask";
import { asked, fresh, job, last, look, now, text, whole, type Result } from "../bench";
import { Chart, type Curve } from "../chart";
import { Row, Start } from "../parts";
import { figures, force, length, lengthFactor, lengthUnit, mass, ppm, tesla, trimmed } from "../units";
import { live } from "./live";
import { Uniformity } from "./uniformity";

const axes = ["x", "y", "z"];
const outside = (m: number) => (m ? length(m, 3) : "not outside the parts");

export function wanted(c: Schemas["Check"]): string {
  const n = (x: number) => (/^[A-Z]{3}$/.test(c.unit) ? `${x.toFixed(2)} ${c.unit}` : c.unit === "T" ? tesla(x) : c.unit === "m" ? length(x) : c.unit === "ppm" ? ppm(x) : c.unit === "kg" ? mass(x) : `${figures(x, 4)} ${c.unit}`);
  return `${n(c.got)}, wanted ${n(c.wanted)}`;
}

// costLimit is what the target allows, "" for no limit; noPrices tells that an answer could not judge it.
export const costLimit = computed(() => look.value?.cost_limit ?? "");
export const noPrices = (r: Result | null) => costLimit.value !== "" && r !== null && !r.target?.some((c) => c.what === "cost");

export function Answer() {
  const r = last.value;
  if (!r) return <><h2>The answer</h2><p>There is no answer yet.</p></>;
  const full = whole.value.result && whole.value.of === text.value ? whole.value.result : null;
  const stale = !fresh.value;
  return (
    <>
      <h2>The answer</h2>
      <div class={stale ? "stale" : ""}>
        {stale && <p class="staleword">These numbers belong to an earlier design.</p>}
        {!full && !stale && <p><small>A draft; forces, stray field and losses come with the whole answer.</small></p>}
        {full && ((full.target ?? []).length > 0 || noPrices(full)) && (
          <table class="list">
            <caption>What you need</caption>
            <tbody>
              {(full.target ?? []).map((c) => <Row key={c.what} what={c.what} value={c.met ? "met" : "NOT met"} note={wanted(c)} mark={c.met ? "good" : "bad"} />)}
              {noPrices(full) && <Row what="cost" value="not known" note={`at most ${costLimit.value} wanted; not all prices are known: they come from the list of stock (Build)`} mark="bad" />}
            </tbody>
          </table>
        )}
        <table class="list">
          <caption>In the gap</caption>
          <tbody>
            <Row what="Field" value={tesla(Math.hypot(...(r.gap_b_T as [number, number, number])), 5)} note={`± ${figures(r.solver.estimated_error_percent, 2)} % by the solver's own estimate`} />
            {r.region && <Row what="Mean over the region" value={tesla(r.region.mean_b_T, 5)} />}
            {r.region && <Row what="Spread over the region" value={ppm(r.region.peak_to_peak_ppm)} note={`rms ${ppm(r.region.rms_ppm)}`} />}
            {r.probes.map((p) => <Row key={p.name} what={p.name} value={tesla(Math.hypot(...(p.b_T as [number, number, number])), 5)} note={`at ${p.at_m.map((x) => length(x)).join(", ")}`} />)}
            {r.sections.map((s) => <Row key={s.name} what={`Section ${s.name}`} value={tesla(s.mean_b_T, 4)} />)}
          </tbody>
        </table>
        {full && (
          <>
            <table class="list">
              <caption>Outside</caption>
              <tbody>
                {full.stray.map((s) => <Row key={s.limit_T} what={`${tesla(s.limit_T, 2)} reaches`} value={s.largest_m ? length(s.largest_m) : "nowhere outside"} note={s.largest_m > 0 && `along ${axes.map((a, i) => `${a} ${outside([s.reach_m.x, s.reach_m.y, s.reach_m.z][i]!)}`).join(", ")}`} />)}
                <Row what="Mass" value={mass(full.mass_kg)} />
              </tbody>
            </table>
            <table class="list">
              <caption>Magnets and their pull</caption>
              <thead><tr><th scope="col">Part</th><th scope="col">Force</th><th scope="col">Permeance</th><th scope="col">Margin to the knee</th></tr></thead>
              <tbody>
                {full.parts.filter((p) => p.kind !== "spacer").map((p) => (
                  <tr key={p.name}>
                    <th scope="row">{p.name}</th>
                    <td class="number">{force(Math.hypot(...(p.force_N as [number, number, number])))}</td>
                    <td class="number">{p.working_point ? figures(p.working_point.permeance, 3) : ""}</td>
                    <td class="number">{p.working_point?.knee_margin ? `${figures(100 * p.working_point.knee_margin, 2)} %` : ""}</td>
                  </tr>
                ))}
              </tbody>
            </table>
            {full.ledger && (
              <details>
                <summary>Where the field goes: from the remanence to the gap</summary>
                <table class="list"><tbody>{full.ledger.rows.map((l, i) => <Row key={i} what={l.what} value={`${l.delta_T >= 0 ? "+" : "−"}${figures(Math.abs(l.delta_T), 3)} T`} note={`leaves ${tesla(l.after_T)}`} />)}</tbody></table>
              </details>
            )}
            {full.warnings.map((w) => <p key={w} class="warning">{w}</p>)}
            {full.cautions.length > 0 && (
              <section class="caution" aria-label="Cautions">
                <h3>Mind your hands</h3>
                <ul>{full.cautions.map((c) => <li key={c}>{c}</li>)}</ul>
              </section>
            )}
          </>
        )}
      </div>
    </>
  );
}

// The charts beside the answer, one at a time.

type Sort = "line" | "even" | "harmonics" | "magnet" | "turns" | "force" | "reach";
export const sort = signal<Sort>("line");

export function Charts() {
  const wound = (look.value?.wounds.length ?? 0) > 0;
  const list: [Sort, string][] = [["line", "Along a line"], ["even", "Over the region"], ["harmonics", "Harmonics"], ["magnet", "Magnets when warm"], ...(wound ? [["turns", "Turns"] as [Sort, string]] : []), ["force", "Coming together"], ["reach", "Reach"]];
  return (
    <section class="charts" aria-label="Charts">
      <div class="choices" role="group" aria-label="Which chart">
        {list.map(([k, name]) => <button key={k} type="button" aria-pressed={sort.value === k} onClick={() => (sort.value = k)}>{name}</button>)}
      </div>
      {sort.value === "line" && <Line />}
      {sort.value === "even" && <Uniformity />}
      {sort.value === "harmonics" && <Harmonics />}
      {sort.value === "magnet" && <Warm />}
      {sort.value === "turns" && wound && <Turns />}
      {sort.value === "force" && <Force />}
      {sort.value === "reach" && <Reach />}
    </section>
  );
}

const lineAxis = signal(2); // 3: between two points
const ends = signal<[number, number, number][] | null>(null); // m

// lineEnds are where the line begins and ends: chosen, or through the middle of the gap and a little beyond the parts.
const lineEnds = computed<[number, number, number][] | null>(() => {
  const b = look.value?.box, g = now.value?.result.gap_at_m;
  if (!b || !g) return null;
  const k = lineAxis.value;
  if (k === 3 && ends.value) return ends.value;
  const from = [...g] as [number, number, number], to = [...from] as [number, number, number];
  const along = k === 3 ? 2 : k, margin = 0.25 * (b.max_m[along]! - b.min_m[along]!);
  from[along] = b.min_m[along]! - margin;
  to[along] = b.max_m[along]! + margin;
  return [from, to];
});
const line = live<Schemas["Trace"]>("/api/line", () => {
  const e = lineEnds.value;
  return e && Math.hypot(...e[0]!.map((x, k) => x - e[1]![k]!)) > 0 ? { from_m: e[0]!, to_m: e[1]!, points: 161 } : null;
});

function Line() {
  useEffect(() => line.follow(), []);
  const s = line.state.value;
  const k = lineAxis.value, free = k === 3;
  const curves = useComputed<Curve[]>(() => {
    const t = line.state.value.answer, e = lineEnds.value;
    if (!t || !e) return [];
    const k = lineAxis.value, from = k === 3 ? 0 : e[0]![k]!;
    const x = t.s_m.map((v) => +((v + from) * lengthFactor()).toPrecision(7));
    const named = ["Bx", "By", "Bz"].map((name, i) => ({ name, x, y: t.b_T.map((v) => v[i]!) }));
    const top = Math.max(...named.flatMap((c) => c.y.map(Math.abs)));
    return [{ name: "|B|", x, y: t.b_T.map((v) => Math.hypot(v[0]!, v[1]!, v[2]!)) }, ...named.filter((c) => Math.max(...c.y.map(Math.abs)) > 1e-3 * top)];
  });
  const point = (x: number[]) => x.map((v) => trimmed(v * lengthFactor(), 4)).join(", ");
  const set = (end: number, axis: number, typed: string) => {
    const v = parseFloat(typed.replace(",", ".").replace("−", "-"));
    const e = lineEnds.value!.map((p) => [...p] as [number, number, number]);
    if (Number.isFinite(v)) e[end]![axis] = v / lengthFactor();
    ends.value = e;
  };
  return (
    <>
      <p class="row">
        <span id="line-axis">Through the middle of the gap, along</span>
        <span role="group" aria-labelledby="line-axis" class="choices">
          {axes.map((a, i) => <button key={a} type="button" aria-pressed={k === i} onClick={() => (lineAxis.value = i)}>{a}</button>)}
          <button type="button" aria-pressed={free} onClick={() => batch(() => ((ends.value ??= lineEnds.value), (lineAxis.value = 3)))}>or between two points</button>
        </span>
        {s.running && <small>{s.running.what} …</small>}
      </p>
      {free && lineEnds.value && ["From", "to"].map((name, end) => (
        <p class="row ends" key={name}>
          <span>{name}</span>
          {axes.map((a, i) => <label key={a}>{a} <input type="text" inputMode="decimal" aria-label={`${end ? "End" : "Begin"} ${a}, ${lengthUnit()}`} value={trimmed(lineEnds.value![end]![i]! * lengthFactor(), 6)} onChange={(e) => set(end, i, e.currentTarget.value)} /></label>)}
          <span>{lengthUnit()}</span>
        </p>
      ))}
      {s.fault && <p class="fault" role="alert">{s.fault}</p>}
      {curves.value.length > 0 && (free
        ? <Chart title={`Field from ${point(lineEnds.value![0]!)} to ${point(lineEnds.value![1]!)} ${lengthUnit()}`} xName={`distance from the first point, ${lengthUnit()}`} yName="B, T" curves={curves.value} stale={s.of !== text.value} />
        : <Chart title={`Field along ${axes[k]}`} xName={`${axes[k]}, ${lengthUnit()}`} yName="B, T" curves={curves.value} stale={s.of !== text.value} />)}
    </>
  );
}

const gap = live<Schemas["GapQuality"]>("/api/gap", () => ({ energy_eV: 1e4, probe_m: 1e-3 }));

function Harmonics() {
  useEffect(() => gap.follow(), []);
  const s = gap.state.value;
  const g = s.answer;
  const terms = useComputed(() => (gap.state.value.answer?.harmonics?.terms ?? []).filter((t) => t.n > 0).sort((a, b) => a.n - b.n || a.m - b.m));
  const curve = useComputed<Curve[]>(() => [{ name: "size of the term", x: terms.value.map((_, i) => i + 1), y: terms.value.map((t) => Math.max(1e-3, Math.abs(t.ppm))), points: true }]);
  if (s.fault) return <p class="fault" role="alert">{s.fault}</p>;
  if (!g) return <p>{s.running ? `${s.running.what} …` : "Waiting for the field."}</p>;
  const biggest = Math.max(1e-9, ...terms.value.map((t) => Math.abs(t.ppm)));
  return (
    <div class={s.of === text.value ? "" : "stale"}>
      <p>
        Over the {g.volume}: mean {tesla(g.region.mean_b_T, 6)}, spread {ppm(g.region.peak_to_peak_ppm)}, the shape uncertain by about {ppm(g.region.noise_ppm)}.
        {" "}Resonance of the {g.resonances.map((r) => `${r.of} ${figures(r.frequency_Hz / 1e6, 6)} MHz, line ${figures(r.full_width_Hz / 1e3, 3)} kHz wide`).slice(0, 1).join("; ")}. A Hall probe of 1 mm reads {figures(Math.abs(g.hall_probe.error_T) * 1e6, 2)} µT wrong.
      </p>
      {g.harmonics && (
        <>
          <Chart title="Harmonics of the gap field" xName="term, in the order of the table" yName="size, ppm" curves={curve.value} logY height={200} stale={s.of !== text.value} xRange={[0, terms.value.length + 1]} />
          <table class="list">
            <caption>Terms at a radius of {length(g.harmonics.radius_m)}, ppm of the field in the middle; those that symmetry forbids are left out</caption>
            <thead><tr><th scope="col">Term</th><th scope="col">n, m</th><th scope="col">ppm</th><th scope="col"><span class="visually-hidden">Size</span></th></tr></thead>
            <tbody>
              {terms.value.map((t, i) => (
                <tr key={i}>
                  <th scope="row">{i + 1}</th>
                  <td>{t.n}, {t.m} {t.m > 0 ? t.kind : ""}</td>
                  <td class="number">{figures(t.ppm, 3)}</td>
                  <td><svg class="stroke" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true"><rect width={(100 * Math.abs(t.ppm)) / biggest} height="10" /></svg></td>
                </tr>
              ))}
            </tbody>
          </table>
        </>
      )}
    </div>
  );
}

const warmPart = signal("");
const degree = signal(20);

function Warm() {
  const curves = useSignal<Schemas["Curves"] | null>(null);
  const fault = useSignal("");
  const points = (whole.value.result ?? last.value)?.parts?.filter((p) => p.working_point) ?? [];
  const magnets = look.value?.parts.filter((p) => p.kind === "magnet") ?? [];
  const name = magnets.some((m) => m.name === warmPart.value) ? warmPart.value : (magnets[0]?.name ?? "");
  const point = points.find((p) => p.name === name)?.working_point;
  const permeance = point?.permeance ?? look.value?.circuit?.permeance ?? 0;
  useEffect(() => {
    if (!name) return;
    ask<Schemas["Curves"]>("POST", "/api/magnet", { ...asked(), part: name, permeance }).then((c) => ((curves.value = c), (fault.value = "")), (e: unknown) => (fault.value = words(e)));
  }, [name, permeance, text.value]);
  const c = curves.value;
  const at = c?.curves.reduce((a, b) => (Math.abs(b.degC - degree.value) < Math.abs(a.degC - degree.value) ? b : a));
  const shownCurves: Curve[] = [];
  if (c && at) {
    const x = (h: number) => +(h / 1e3).toPrecision(6);
    const low = Math.min(...at.h_A_per_m);
    shownCurves.push({ name: `B at ${at.degC} °C`, x: at.h_A_per_m.map(x), y: at.b_T });
    const end = Math.max(low, -1.6 / (4e-7 * Math.PI * Math.max(permeance, 1e-6)));
    shownCurves.push({ name: "load line", x: [x(end), 0], y: [-permeance * 4e-7 * Math.PI * end, 0] });
    shownCurves.push({ name: "working point", x: [x(at.working_h_A_per_m)], y: [at.working_b_T], points: true });
    if (at.knee_h_A_per_m < 0) {
      const k = at.h_A_per_m.reduce((a, h, i) => (Math.abs(h - at.knee_h_A_per_m) < Math.abs(at.h_A_per_m[a]! - at.knee_h_A_per_m) ? i : a), 0);
      shownCurves.push({ name: "knee", x: [x(at.h_A_per_m[k]!)], y: [at.b_T[k]!], points: true });
    }
  }
  const low = c ? Math.min(...c.curves.flatMap((q) => q.h_A_per_m)) / 1e3 : 0;
  const past = at && at.knee_h_A_per_m < 0 && at.working_h_A_per_m < at.knee_h_A_per_m;
  return (
    <>
      <p class="row">
        <label>Magnet <select value={name} onChange={(e) => (warmPart.value = e.currentTarget.value)}>{magnets.map((m) => <option key={m.name}>{m.name}</option>)}</select></label>
        <label class="slide">
          Temperature <input type="range" min={-40} max={c ? c.curves.at(-1)!.degC : 200} step={5} value={degree.value} onInput={(e) => (degree.value = +e.currentTarget.value)} aria-valuetext={`${degree.value} degrees Celsius`} /> <output>{degree.value} °C</output>
        </label>
      </p>
      {fault.value && <p class="fault" role="alert">{fault.value}</p>}
      {at && <Chart title={`Working point of ${name} (${c!.grade})`} xName="H, kA/m" yName="B, T" curves={shownCurves} yRange={[-0.4, 1.6]} xRange={[Math.max(low, -1400), 0]} />}
      {at && (
        <p role="status">
          On the mean load line, permeance coefficient {figures(permeance, 3)}{point ? "" : " by the circuit"}: B {tesla(at.working_b_T, 3)}, H {figures(at.working_h_A_per_m / 1e3, 3)} kA/m;
          {" "}{at.knee_h_A_per_m < 0 ? <>the knee is at {figures(at.knee_h_A_per_m / 1e3, 3)} kA/m. {past ? <strong class="fault">Past the knee: the magnet loses for good and keeps about {figures(100 * at.remanence_kept, 3)} %.</strong> : "This side of the knee."}</> : "its knee is not known."}
          {" "}Corners fare worse than the mean: the whole answer looks there. <small>{c!.knee_rule}</small>
        </p>
      )}
    </>
  );
}

const turning = job<Schemas["WindingSheet"]>();

function Turns() {
  const s = turning.state.value, o = s.answer?.outlook;
  const curves = useComputed<Curve[]>(() => {
    const p = turning.state.value.answer?.outlook?.points ?? [];
    return [
      { name: "as planned", x: p.map((q) => q.turns), y: p.map((q) => q.gap_T) },
      { name: "packed looser", x: p.map((q) => q.turns), y: p.map((q) => q.looser_gap_T || null) },
      ...(turning.state.value.answer?.outlook ? [{ name: "planned", x: [turning.state.value.answer.outlook.planned_turns], y: [turning.state.value.answer.outlook.planned_gap_T], points: true }] : []),
    ];
  });
  return (
    <>
      <Start work={turning} onStart={() => void turning.run("/api/wind", { ...asked(), yoke: look.value!.wounds[0]!, solve: true })}>Solve the field against turns (some twenty drafts)</Start>
      {o && (
        <>
          <Chart title="Field against turns" xName="turns" yName="B in the gap, T" curves={curves.value} levels={o.target_T ? [{ name: "wanted", y: o.target_T }] : []} stale={s.of !== text.value} />
          <p>
            {o.knee_turns ? `From about ${Math.round(o.knee_turns)} turns on the steel no longer limits. ` : ""}
            {o.enough_turns ? `From ${Math.round(o.enough_turns)} turns on, a further hundred bring less than ${figures(100 * o.least_gain, 2)} %. ` : ""}
            {o.target_turns ? `The target is reached at ${Math.round(o.target_turns)} turns.` : ""}
          </p>
        </>
      )}
    </>
  );
}

const closing = job<Schemas["Approach"]>();
const parting = signal(0);

function Force() {
  const list = look.value?.partings ?? [];
  const s = closing.state.value, a = s.answer;
  const k = a ? "xyz".indexOf(a.plane[0]!) : 2;
  const curves = useComputed<Curve[]>(() => {
    const r = closing.state.value.answer;
    if (!r) return [];
    const axis = "xyz".indexOf(r.plane[0]!);
    const up = [...r.steps].reverse();
    return [{ name: "pull", x: up.map((q) => +(q.distance_m * lengthFactor()).toPrecision(6)), y: up.map((q) => -q.force_N[axis]!) }];
  });
  if (!list.length) return <p>No plane parts this design without cutting a part: write the halves as parts that touch.</p>;
  const p = list[Math.min(parting.value, list.length - 1)]!;
  return (
    <>
      <p class="row">
        <label>Parted at <select value={String(list.indexOf(p))} onChange={(e) => (parting.value = +e.currentTarget.value)}>{list.map((q, i) => <option key={i} value={String(i)}>{axes[q.axis]} = {length(q.at_m)}</option>)}</select></label>
        <Start work={closing} onStart={() => void closing.run("/api/approach", { ...asked(), plane: p, from_m: 0.1, steps: 10 })}>Solve the way together</Start>
      </p>
      {a && (
        <>
          <Chart title="Pull between the halves" xName={`distance from the closed place, ${lengthUnit()}`} yName="pull, N" curves={curves.value} stale={s.of !== text.value} />
          <p>{a.moved.join(", ")} pulled with {force(Math.abs(a.steps.at(-1)!.force_N[k]!))} in the closed place; {figures(a.energy_J, 3)} J are set free on the way.</p>
          {a.cautions.map((c) => <p key={c} class="warning">{c}</p>)}
        </>
      )}
    </>
  );
}

const reachAxis = signal(2);
const reach = live<Schemas["Trace"]>("/api/line", () => {
  const b = look.value?.box;
  if (!b) return null;
  const k = reachAxis.value;
  const from = [0, 1, 2].map((i) => (b.min_m[i]! + b.max_m[i]!) / 2);
  const to = [...from];
  from[k] = b.max_m[k]! + 1e-3;
  to[k] = Math.max(1, 6 * (b.max_m[k]! - b.min_m[k]!));
  return { from_m: from, to_m: to, points: 200 };
});

function Reach() {
  useEffect(() => reach.follow(), []);
  const s = reach.state.value;
  const curves = useComputed<Curve[]>(() => {
    const t = reach.state.value.answer, b = look.value?.box;
    if (!t || !b) return [];
    const k = reachAxis.value;
    const start = b.max_m[k]! + 1e-3 - (b.min_m[k]! + b.max_m[k]!) / 2;
    return [{ name: "|B|", x: t.s_m.map((v) => +((v + start) * lengthFactor()).toPrecision(6)), y: t.b_T.map((v) => Math.max(1e-9, 1e3 * Math.hypot(v[0]!, v[1]!, v[2]!))) }];
  });
  return (
    <>
      <p class="row">
        <span id="reach-axis">Outward from the middle, along</span>
        <span role="group" aria-labelledby="reach-axis" class="choices">{axes.map((a, i) => <button key={a} type="button" aria-pressed={reachAxis.value === i} onClick={() => (reachAxis.value = i)}>+{a}</button>)}</span>
        {s.running && <small>{s.running.what} …</small>}
      </p>
      {s.fault && <p class="fault" role="alert">{s.fault}</p>}
      {curves.value.length > 0 && (
        <Chart title={`Stray field along +${axes[reachAxis.value]}`} xName={`distance from the middle, ${lengthUnit()}`} yName="B, mT" curves={curves.value} logX logY
          levels={[{ name: "0.5 mT: implants", y: 0.5 }, { name: "3 mT: loose steel", y: 3 }]} stale={s.of !== text.value} />
      )}
    </>
  );
}
