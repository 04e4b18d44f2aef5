// The view with its controls: where to look from, a section, the field on a plane, the surface of a limit.
import { batch, computed, effect, signal, useSignal, useSignalEffect } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import type { Schemas } from "./ask";
import { asked, catalogue, changing, draft, following, hidden, job, look, now, picked, step, text } from "./bench";
import { coarse, gap, gapPicked, Handles, held, rules } from "./handles";
import { colourAt, sizes } from "./lattice";
import { Bar } from "./parts";
import { diverging, largestOf, radius, residuals, signed, type Residual } from "./residuals";
import { figures, inches, length, lengthFactor, lengthUnit, tesla, trimmed } from "./units";
import { View, type Mark, type Reading, type Seen } from "./view";

const axes = ["x", "y", "z"];
const cutOn = signal(true);
const mapOn = signal(true);
const fenceOn = signal(false);
const lines = signal(true);
const flow = signal<Seen["flow"]>("none");
const steelOn = signal(false);
const readingsOn = signal(true);
const axis = signal(0);
const at = signal(0); // m
const map = signal<Schemas["Map"] | null>(null);
const mapOf = signal("");

const mapping = job<Schemas["Map"]>();
const fencing = job<Schemas["Fence"]>();
const filling = job<Schemas["Steels"]>();

// The map follows the field and the plane; the surface of the limit and the filling of the steel follow the field, where they are wanted.
const of = (n: NonNullable<typeof now.value>) => ({ ...asked(), accuracy: n.accuracy, field_only: n.field_only });
const keyOf = (wanted: boolean, ...more: unknown[]) => (wanted && now.value && look.value ? JSON.stringify([text.value, now.value.accuracy, ...more]) : "");
following(mapping, () => keyOf(mapOn.value, axis.value, at.value), async () => {
  const question = { ...of(now.value!), plane: { axis: axis.value, at_m: at.value }, cells: 72 };
  const take = (m: Schemas["Map"] | null) => m && batch(() => ((map.value = m), (mapOf.value = question.text)));
  take(await mapping.run("/api/plane", question, (name, m) => name === "map" && take(m as Schemas["Map"])));
})();
following(fencing, () => keyOf(fenceOn.value && now.value?.accuracy !== "draft"), () => fencing.run("/api/stray", { ...of(now.value!), limit_T: 5e-4 }))();
following(filling, () => keyOf(steelOn.value), () => filling.run("/api/steel", of(now.value!)))();

// waits tells that the picture of a change waits for its draft, so that drawing takes no core from the solver: numbers come first. Under a hand that
// drags, or where changes follow each other or the draft takes longer than an eye forgives, it does not.
const waits = signal(false);
const drafting = computed(() => (changing.value || !!draft.value.running) && !held.value);
let waitsSince = 0, release: ReturnType<typeof setTimeout> | undefined;
effect(() => {
  const d = drafting.value;
  if (!d && !waits.peek()) return;
  if (!waits.peek()) waitsSince = performance.now();
  waits.value = true;
  clearTimeout(release);
  release = setTimeout(() => (waits.value = false), d ? waitsSince + 250 - performance.now() : 30);
});

// top is the end of the colours: all but the few values at corners lie below it.
const top = computed(() => {
  const m = map.value;
  if (!m) return 1;
  const b = sizes(m).sort((p, q) => p - q);
  const high = b[Math.floor(0.985 * b.length)] || 1;
  const round = 10 ** Math.floor(Math.log10(high));
  return Math.ceil((high / round) * 4) / 4 * round;
});

// marked are the readings of a log at their places, coloured to a whole number of mT at the end of the scale.
const marked = computed(() => {
  const r = readingsOn.value ? residuals.value : null;
  if (!r?.list.length) return null;
  const largest = largestOf(r.list), power = 10 ** Math.floor(Math.log10(largest)), top = [1, 2, 5, 10].find((k) => k * power >= largest * (1 - 1e-9))! * power;
  const marks = r.list.map((q): Mark => ({ at: q.at as Mark["at"], colour: colourAt(diverging, 0.5 + q.t / top / 2), radius: 2 + 0.6 * radius(q.t, largest), round: q.t >= 0, ringed: q.wrong, faded: r.stale }));
  return { ...r, top, marks };
});

const none: Seen["rules"] = [];
const placed = (p: number[]) => `${p.map((x) => trimmed(Math.round(x * lengthFactor() * 1e3) / 1e3, 4)).join(", ")} ${lengthUnit()}`;
const milli = (t: number, n = 4) => `${figures(t * 1e3, n)} mT`;
const said = (q: Residual) => `${q.component} at ${placed(q.at)}: read ${milli(q.read)}, predicted ${milli(q.predicted)}, difference ${signed(q.t * 1e3)} ± ${milli(q.sigma, 2)}${q.wrong ? ", fits in with nothing" : ""} (line ${q.line})`;

// SceneView shows the parts; where they are not edited, a click does not pick one.
export function SceneView({ editing = true }: { editing?: boolean }) {
  const host = useRef<HTMLDivElement>(null);
  const view = useRef<View | null>(null);
  const frame = useRef(() => {});
  const fault = useSignal("");
  const hover = useSignal<Reading | null>(null);
  const shape = useRef("");

  useEffect(() => {
    try {
      const v = (view.current = new View(host.current!, catalogue.value!.palette));
      v.onPick = (name, inGap) => {
        if (!editing) return;
        batch(() => ((picked.value = name), (gapPicked.value = inGap)));
        const kind = look.value?.parts.find((p) => p.name === name)?.kind;
        if (kind) step.value = kind === "magnet" ? "magnet" : "yoke";
      };
      v.onFrame = () => frame.current();
      v.onHover = (h) => (hover.value = h);
      (window as unknown as Record<string, unknown>)["benchView"] = v; // for measurements
    } catch (e) {
      fault.value = `This browser shows no three-dimensional view (${e instanceof Error ? e.message : e}); all else works.`;
    }
    return () => view.current?.end();
  }, []);
  useSignalEffect(() => {
    const l = waits.value ? null : look.value;
    if (!l || !view.current || !l.parts.length) return;
    const layout = `${l.layout}:${l.parts.length}:${asked().file}`;
    view.current.build(l, layout !== shape.current);
    shape.current = layout;
  });
  const steel = () => (steelOn.value ? filling.state.value.answer : null);
  const stale = () => (!!map.value && mapOf.value !== text.value) || (!!steel() && filling.state.value.of !== text.value);
  useSignalEffect(() => {
    if (waits.value) return view.current?.wait();
    const m = mapOn.value ? map.value : null;
    view.current?.show({
      cut: cutOn.value ? { axis: axis.value, at: at.value } : null, hidden: hidden.value, picked: picked.value, map: m, mapTop: top.value, lines: lines.value, flow: flow.value,
      steel: steel(), fence: fenceOn.value ? fencing.state.value.answer : null, stale: stale(), rules: editing ? rules.value : none, gap: gap.value, marks: marked.value?.marks ?? null,
    });
    view.current?.canvas.setAttribute("aria-label", `The parts in three dimensions${m ? `, with the field on the plane ${axes[m.plane.axis]} = ${length(m.plane.at_m)}` : ""}. Arrow keys turn, + and − zoom.`);
  });

  const box = look.value?.box;
  const lo = box ? box.min_m[axis.value]! : -0.1, hi = box ? box.max_m[axis.value]! : 0.1;
  const margin = 0.25 * (hi - lo);
  const running = mapping.state.value.running ?? fencing.state.value.running ?? filling.state.value.running;
  const fault3 = mapping.state.value.fault || fencing.state.value.fault || filling.state.value.fault;
  const wide = () => host.current?.clientWidth ?? 0;
  const place = (v: string) => (at.value = +v / lengthFactor());
  return (
    <section class="scene" aria-label="View of the parts">
      <div class="canvas" ref={host}>
        {fault.value && <p class="fault">{fault.value}</p>}
        {look.value && !look.value.parts.length && <p class="empty">There are no parts to show yet.</p>}
        {hover.value && (
          <output class="hover" style={{ [hover.value.x > wide() / 2 ? "right" : "left"]: `${hover.value.x > wide() / 2 ? wide() - hover.value.x + 12 : hover.value.x + 12}px`, top: `${hover.value.y + 12}px` }}>
            {hover.value.mark !== undefined ? marked.value && said(marked.value.list[hover.value.mark]!) : (
              <>{tesla(hover.value.b)}{hover.value.share !== undefined && `, ${figures(100 * hover.value.share, 3)} % of saturation, ${hover.value.of}`} at {placed(hover.value.place)}</>
            )}
          </output>
        )}
        {editing && <Handles view={view} frame={frame} />}
        <div class="scales">
          {mapOn.value && map.value && <Scale name="B" top={tesla(top.value, 3)} stale={mapOf.value !== text.value} />}
          {steel() && <Scale name="steel, of saturation" top="100 %" stale={filling.state.value.of !== text.value} />}
          {marked.value && <Scale name={`${marked.value.component}, read less predicted`} top={`● +${trimmed(marked.value.top * 1e3, 1)} mT`} middle="0" bottom={`■ −${trimmed(marked.value.top * 1e3, 1)} mT`} colours={diverging} stale={marked.value.stale} />}
        </div>
      </div>
      <div class="controls">
        <div class="row">
          <div class="choices" role="group" aria-label="Look from">
            {([["oblique", [1, -0.75, 0.55]], ["front", [1, 0, 0]], ["side", [0, -1, 0]], ["above", [0, -0.001, 1]]] as const).map(([name, d]) => (
              <button key={name} type="button" onClick={() => view.current?.look([...d])}>{name}</button>
            ))}
            <button type="button" aria-label="Nearer" onClick={() => view.current?.zoom(0.8)}>+</button>
            <button type="button" aria-label="Farther" onClick={() => view.current?.zoom(1.25)}>−</button>
          </div>
          <span id="plane-axis">Plane across</span>
          <span class="choices" role="group" aria-labelledby="plane-axis">
            {axes.map((a, i) => <button key={a} type="button" aria-pressed={axis.value === i} onClick={() => batch(() => ((axis.value = i), (at.value = 0)))}>{a}</button>)}
          </span>
          <label class="slide">
            at <input type="range" min={trimmed((lo - margin) * lengthFactor(), 5).replace("−", "-")} max={trimmed((hi + margin) * lengthFactor(), 5).replace("−", "-")} step={lengthUnit() === "mm" ? 0.5 : 0.02} value={at.value * lengthFactor()}
              onInput={(e) => place(e.currentTarget.value)} aria-valuetext={`${axes[axis.value]} = ${length(at.value)}`} />
            <output>{axes[axis.value]} = {length(at.value, 3)}</output>
          </label>
        </div>
        <div class="row">
          <label class="check"><input type="checkbox" checked={mapOn.value} onChange={(e) => (mapOn.value = e.currentTarget.checked)} /> field</label>
          <label class="check"><input type="checkbox" checked={lines.value} disabled={!mapOn.value} onChange={(e) => (lines.value = e.currentTarget.checked)} /> lines of equal field</label>
          <label>direction <select value={flow.value} disabled={!mapOn.value} onChange={(e) => (flow.value = e.currentTarget.value as Seen["flow"])}><option value="none">none</option><option value="arrows">arrows</option><option value="lines">field lines</option></select></label>
          <label class="check"><input type="checkbox" checked={steelOn.value} onChange={(e) => (steelOn.value = e.currentTarget.checked)} /> how full the steel is</label>
          {residuals.value && <label class="check"><input type="checkbox" checked={readingsOn.value} onChange={(e) => (readingsOn.value = e.currentTarget.checked)} /> readings less the prediction {residuals.value.than}</label>}
          <label class="check"><input type="checkbox" checked={cutOn.value} onChange={(e) => (cutOn.value = e.currentTarget.checked)} /> cut the parts there</label>
          <label class="check"><input type="checkbox" checked={fenceOn.value} onChange={(e) => (fenceOn.value = e.currentTarget.checked)} /> 0.5 mT surface, with a hand and a 150 mm spanner</label>
        </div>
        {editing && <div class="row">
          <span>Click a part to drag its dimensions{gap.value ? ", or" : ""}</span>
          {gap.value && <span class="choices"><button type="button" aria-pressed={gapPicked.value} onClick={() => batch(() => ((picked.value = null), (gapPicked.value = !gapPicked.value)))}>the gap</button></span>}
          {inches.value ? <span>Handles step by 1/64 in</span> : <label>Handles step by <select value={coarse.value ? "1" : "0.1"} onChange={(e) => (coarse.value = e.currentTarget.value === "1")}><option value="0.1">0.1 mm</option><option value="1">1 mm</option></select></label>}
        </div>}
        {running && <Bar p={running} what="The field in the view" onCancel={() => (mapping.cancel(), fencing.cancel(), filling.cancel())} />}
        {fenceOn.value && fencing.state.value.answer && <small>0.5 mT reaches {length(fencing.state.value.answer.farthest_m)} from the middle at most{fencing.state.value.of === text.value ? "" : " (an earlier design)"}.</small>}
        {steel() && steel()!.bodies.length === 0 && <small>There is no steel that saturates in this design.</small>}
        {fault3 && <p class="fault" role="alert">{fault3}</p>}
      </div>
    </section>
  );
}

// Scale is the key to a range of colours, those of the field where none are given.
export function Scale({ name, top, middle, bottom = "0", colours, stale }: { name: string; top: string; middle?: string; bottom?: string; colours?: number[][]; stale: boolean }) {
  const ramp = `linear-gradient(to top, ${(colours ?? catalogue.value!.palette).map((rgb) => `rgb(${rgb.join(",")})`).join()})`;
  return (
    <div class={`scale ${stale ? "stale" : ""}`} role="img" aria-label={`Colours of ${name} from ${bottom} to ${top}`}>
      <b>{name}</b>
      <span>{top}</span>
      <span class="ramp" style={{ background: ramp }}>{middle && <span>{middle}</span>}</span>
      <span>{bottom}</span>
    </div>
  );
}
