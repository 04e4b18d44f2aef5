// Handles along the dimensions of the part, or of the gap, that is picked. Which parameter of the file moves which face is not written down
// anywhere: each length is changed a little, and the server says how the parts then stand.
import { computed, effect, signal, useSignalEffect } from "@preact/signals";
import { useRef } from "preact/hooks";
import { ask, Refused, words, type Schemas } from "./ask";
import { asked, change, drag, drop, look, picked, text } from "./bench";
import { nameOf } from "./parts";
import { inches, length, lengthFactor, lengthUnit, trimmed } from "./units";
import type { View } from "./view";

type Point = [number, number, number];
type Box = [Point, Point];

export const gapPicked = signal(false);
export const coarse = signal(false); // whether handles step by whole millimetres

const snap = () => (inches.value ? 0.0254 / 64 : coarse.value ? 1e-3 : 1e-4);

// sound is the last design without a mistake: its parts stay in view while a length is out of reach.
const sound = signal<Schemas["Look"] | null>(null);
effect(() => {
  const l = look.value;
  if (!l || l.parts.length) sound.value = l;
});
effect(() => {
  if (picked.value) gapPicked.value = false;
});

// gapBox is the space between the faces above and below the middle of the gap, null where there is none.
function gapBox(l: Schemas["Look"]): Box | null {
  const c = l.region?.center_m ?? [0, 0, 0];
  const solid = l.parts.filter((p) => p.kind !== "spacer" && p.kind !== "coil" && [0, 1].every((k) => p.bounds_m[0]![k]! < c[k]! && p.bounds_m[1]![k]! > c[k]!));
  const above = solid.filter((p) => p.bounds_m[0]![2]! >= c[2]!).sort((a, b) => a.bounds_m[0]![2]! - b.bounds_m[0]![2]!)[0];
  const below = solid.filter((p) => p.bounds_m[1]![2]! <= c[2]!).sort((a, b) => b.bounds_m[1]![2]! - a.bounds_m[1]![2]!)[0];
  if (!above || !below) return null;
  const lo = [0, 1].map((k) => Math.max(above.bounds_m[0]![k]!, below.bounds_m[0]![k]!)), hi = [0, 1].map((k) => Math.min(above.bounds_m[1]![k]!, below.bounds_m[1]![k]!));
  return [[lo[0]!, lo[1]!, below.bounds_m[1]![2]!], [hi[0]!, hi[1]!, above.bounds_m[0]![2]!]];
}
export const gap = computed(() => (sound.value ? gapBox(sound.value) : null));

const target = computed(() => (gapPicked.value ? "" : picked.value));
const boxIn = (l: Schemas["Look"], of: string): Box | null => (of === "" ? gapBox(l) : ((l.parts.find((p) => p.name === of)?.bounds_m as Box | undefined) ?? null));

interface Handle {
  axis: number;
  side: 0 | 1; // which face of the box
  moves: { path: string; rate: number }[]; // of each parameter, as the face goes along +axis; the first is the one that is shown and snapped
}
const size = 30; // px of a handle, with its rim and a little room
const handles = signal<{ of: string; list: Handle[] }>({ of: "", list: [] });
export const held = signal<{ path: string; si: number } | null>(null); // what a hand moves

const lengths = (l: Schemas["Look"], under: string) => l.parameters.filter((p) => p.path.startsWith(under) && p.si !== undefined && p.kind === "quantity" && ["mm", "in", "cm", "m", "um", "ft"].includes(p.unit ?? ""));

// blockHandles are those of a block whose size the file has: the face that is dragged goes, the other stays.
function blockHandles(l: Schemas["Look"], name: string, only?: { axis: number; side: 0 | 1 }): Handle[] {
  const p = l.parts.find((q) => q.name === name)!;
  const square = p.rotation.every((r, i) => r.every((x, k) => Math.abs(x - (i === k ? 1 : 0)) < 1e-9));
  const path = (what: string, axis: number) => `${p.kind}.${name}.${what}.${"xyz"[axis]}`;
  const known = (q: string) => l.parameters.some((x) => x.path === q && x.si !== undefined);
  const out: Handle[] = [];
  for (const axis of [0, 1, 2])
    for (const side of [1, 0] as const) {
      if (only && (only.axis !== axis || only.side !== side)) continue;
      if (square && known(path("size", axis)) && known(path("center", axis))) out.push({ axis, side, moves: [{ path: path("size", axis), rate: side ? 1 : -1 }, { path: path("center", axis), rate: 0.5 }] });
    }
  return out;
}

async function find(l: Schemas["Look"], of: string): Promise<Handle[]> {
  const own = `${l.parts.find((p) => p.name === of)?.kind}.${of}.`;
  let tried = lengths(l, of !== "" && l.parameters.some((p) => p.path.startsWith(own)) ? own : "layout.").filter((p) => p.si! > 0 || p.given);
  if (of === "" && !tried.length) {
    const b = gapBox(l)!;
    const at = (side: 0 | 1, z: number) => l.parts.find((p) => Math.abs(p.bounds_m[side]![2]! - z) < 1e-9 && p.kind !== "spacer" && p.bounds_m[0]![0]! < 0.5 * (b[0][0] + b[1][0]) && p.bounds_m[1]![0]! > 0.5 * (b[0][0] + b[1][0]));
    const above = at(0, b[1][2]), below = at(1, b[0][2]);
    return [...(above ? blockHandles(l, above.name, { axis: 2, side: 0 }) : []).map((h) => ({ ...h, side: 1 as const })), ...(below ? blockHandles(l, below.name, { axis: 2, side: 1 }) : []).map((h) => ({ ...h, side: 0 as const }))];
  }
  const block = of !== "" && tried.some((p) => p.path.startsWith(own)) ? blockHandles(l, of) : [];
  if (block.length) return block;
  tried = tried.filter((p) => !/\.(center|rotate)\./.test(p.path));
  const box = boxIn(l, of), c = l.region?.center_m ?? [0, 0, 0];
  if (!box) return [];
  const found = await Promise.all(
    tried.map(async (p): Promise<Handle | null> => {
      const little = Math.max(1e-4, 2e-3 * Math.abs(p.si!));
      for (const d of [little, -little]) {
        const m = await ask<Schemas["Look"]>("POST", "/api/look", { ...asked(), changes: [{ path: p.path, value: `${(p.si! + d) * 1e3} mm` }] });
        const b = m.parts.length ? boxIn(m, of) : null;
        if (!b) continue;
        const faces = [2, 1, 0].flatMap((axis) => ([1, 0] as const).map((side) => ({ axis, side, v: (b[side][axis]! - box[side][axis]!) / d })));
        // The face that goes farthest; of two that go together the one nearer to the gap.
        const near = (f: (typeof faces)[0]) => Math.abs(box[f.side][f.axis]! - c[f.axis]!);
        const best = faces.reduce((a, f) => (Math.abs(f.v) > Math.abs(a.v) + 0.01 || (Math.abs(f.v - a.v) < 0.01 && f.axis === a.axis && near(f) < near(a) - 1e-9) ? f : a));
        return Math.abs(best.v) < 0.02 ? null : { axis: best.axis, side: best.side, moves: [{ path: p.path, rate: 1 / best.v }] };
      }
      return null;
    }),
  );
  return found.filter((h) => h !== null);
}

let looked = "";
effect(() => {
  const l = sound.value, of = target.value, t = text.value;
  if (held.value) return;
  if (of === null || !l || l.text !== t || !boxIn(l, of)) {
    if (of === null) handles.value = { of: "", list: [] };
    looked = "";
    return;
  }
  const key = `${of}\0${t}`;
  if (key === looked) return;
  looked = key;
  void find(l, of).then((list) => key === looked && (handles.value = { of, list }), () => {});
});

const si = (path: string) => (held.value?.path === path ? held.value.si : look.value?.parameters.find((p) => p.path === path)?.si);

// places are where the handles stand, each with the end of its dimension line, m.
const places = computed(() => {
  const l = sound.value, h = handles.value;
  const box = l && (target.value === h.of ? boxIn(l, h.of) : null);
  if (!box) return [];
  return h.list.map((q) => {
    const at = [0, 1, 2].map((k) => (box[0][k]! + box[1][k]!) / 2) as Point, from = [...at] as Point;
    at[q.axis] = box[q.side][q.axis]!;
    from[q.axis] = box[1 - q.side]![q.axis]!;
    return { ...q, at, from };
  });
});
export const rules = computed<[Point, Point][]>(() => places.value.map((p) => [p.from, p.at]));

const valued = (x: number) => `${inches.value ? trimmed(x / 0.0254, 9) : trimmed(x * 1e3, 9)} ${lengthUnit()}`.replace("−", "-");

function changesOf(h: Handle, from: number, to: number, others: number[]): Schemas["Change"][] {
  const travel = (to - from) / h.moves[0]!.rate;
  return h.moves.map((m, i) => ({ path: m.path, value: valued(i === 0 ? to : Math.round((others[i]! + travel * m.rate) * 1e9) / 1e9) }));
}

// Handles stand over the view; frame is called after each of its frames.
export function Handles({ view, frame }: { view: { current: View | null }; frame: { current: () => void } }) {
  const host = useRef<HTMLDivElement>(null);
  const said = useRef(signal(""));
  const place = () => {
    const v = view.current, list = places.peek();
    if (!v || !host.current) return;
    const shown = [...host.current.querySelectorAll<HTMLElement>(".handle")].flatMap((el, i) => {
      const p = list[i] && v.project(list[i].at), label = el.querySelector("span")!;
      el.style.visibility = p ? "" : "hidden";
      return p ? [{ ...p, el, label, wide: label.offsetWidth, held: list[i]!.moves[0]!.path === held.peek()?.path }] : [];
    });
    // What would cover another one moves: circles down, of which the one in the hand stays, then labels to the left of theirs, or else down too.
    shown.sort((a, b) => +b.held - +a.held || a.y - b.y);
    const taken: { x: number; y: number; wide: number; high: number }[] = [];
    const over = (x: number, y: number, wide: number, high: number) => taken.find((t) => x < t.x + t.wide && t.x < x + wide && y < t.y + t.high && t.y < y + high);
    const below = (x: number, y: number, wide: number, high: number) => {
      for (let o; (o = over(x, y, wide, high)); ) y = o.y + o.high;
      taken.push({ x, y, wide, high });
      return y;
    };
    for (const s of shown) {
      s.y = below(s.x, s.y, size, size);
      s.el.style.transform = `translate(${s.x.toFixed(1)}px, ${s.y.toFixed(1)}px)`;
    }
    for (const s of shown) {
      const right = s.x + size, left = s.x - s.wide - 4, x = over(right, s.y, s.wide, 26) && left > 0 && !over(left, s.y, s.wide, 26) ? left : right;
      s.label.style.transform = `translate(${(x - right).toFixed(1)}px, ${(below(x, s.y, s.wide, 26) - s.y).toFixed(1)}px)`;
    }
  };
  frame.current = place;
  useSignalEffect(() => {
    void places.value;
    queueMicrotask(place);
  });

  const grip = (h: Handle & { at: Point }) => (e: PointerEvent) => {
    const v = view.current, el = e.currentTarget as HTMLElement, path = h.moves[0]!.path;
    const start = si(path), p = v?.project(h.at);
    const ahead = [...h.at] as Point;
    ahead[h.axis]! += 1e-3;
    const q = v?.project(ahead);
    if (e.button !== 0 || start === undefined || !p || !q) return;
    e.preventDefault();
    el.focus();
    el.setPointerCapture(e.pointerId);
    const u = [(q.x - p.x) * 1e3, (q.y - p.y) * 1e3] as const; // px per metre
    const steep = Math.max(u[0] * u[0] + u[1] * u[1], 2.5e5); // seen end on, an axis is moved by half a millimetre a pixel and upward
    const others = h.moves.map((m) => look.value?.parameters.find((x) => x.path === m.path)?.si ?? 0);
    const t0 = text.value;
    let to = start, sent = start, busy = false, up = false;
    held.value = { path, si: start };
    const pump = async () => {
      if (busy) return;
      busy = true;
      while (sent !== to) {
        const now = (sent = to);
        try {
          await drag(text.value === t0, ...changesOf(h, start, now, others));
          said.current.value = look.value?.problems[0]?.what ?? "";
        } catch (f) {
          said.current.value = f instanceof Refused ? f.message : words(f);
        }
      }
      busy = false;
      if (up) end();
    };
    const end = () => {
      held.value = null;
      said.current.value = "";
      drop();
    };
    const move = (m: PointerEvent) => {
      const along = ((m.clientX - e.clientX) * u[0] + (m.clientY - e.clientY) * u[1]) / steep;
      const s = snap(), x = Math.round((start + along * h.moves[0]!.rate) / s) * s;
      to = start > 0 ? Math.max(s, x) : x;
      held.value = { path, si: to };
      void pump();
    };
    const done = () => {
      el.removeEventListener("pointermove", move);
      el.removeEventListener("keydown", escape);
      up = true;
      if (!busy) end();
    };
    const escape = (k: KeyboardEvent) => {
      if (k.key !== "Escape") return;
      to = start;
      held.value = { path, si: to };
      void pump();
      done();
    };
    el.addEventListener("pointermove", move);
    el.addEventListener("keydown", escape);
    el.addEventListener("lostpointercapture", done, { once: true });
  };

  const step = (h: Handle) => (e: KeyboardEvent) => {
    const by = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1 }[e.key], from = si(h.moves[0]!.path);
    if (!by || from === undefined || held.value) return;
    e.preventDefault();
    const s = snap() * (e.shiftKey ? 10 : 1), to = Math.round(from / snap()) * snap() + by * s;
    const others = h.moves.map((m) => look.value?.parameters.find((x) => x.path === m.path)?.si ?? 0);
    change(...changesOf(h, from, to, others)).then(() => (said.current.value = ""), (f: unknown) => !(f instanceof DOMException) && (said.current.value = words(f)));
  };

  return (
    <div class="handles" ref={host}>
      {places.value.map((h) => {
        const path = h.moves[0]!.path, value = si(path) ?? 0, grasped = held.value?.path === path;
        const part = target.value && path.split(".").includes(target.value) ? `${target.value}: ` : "";
        const name = `${part}${nameOf(path)}`;
        return (
          <div key={`${path}${h.side}`} class={`handle ${grasped ? "held" : ""}`} role="slider" tabIndex={0} aria-label={name} aria-valuenow={+(value * lengthFactor()).toFixed(4)} aria-valuetext={length(value, 5)}
            onPointerDown={grip(h)} onKeyDown={step(h)}>
            <span>{name} <b>{length(value, 5)}</b></span>
          </div>
        );
      })}
      {said.current.value && <p class="fault" role="alert">{said.current.value}</p>}
    </div>
  );
}
