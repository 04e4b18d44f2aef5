// Residuals: a map of places seen along one axis, each with what the reading differs by, told by colour, by shape, by size and as a number; and
// what the view shows of them.
import { signal, useSignal } from "@preact/signals";
import { look } from "./bench";
import { figures, length, lengthFactor, lengthUnit } from "./units";

export interface Residual {
  line: number;
  at: number[]; // m
  component: string;
  read: number; // corrected, T
  predicted: number; // T
  t: number; // reading less prediction, T
  sigma: number; // standard uncertainty, T
  wrong: boolean;
}

// Residuals are those of one component, that the map and the view show.
export interface Residuals {
  list: Residual[];
  component: string;
  than: string; // "of the design"
  stale: boolean;
}
export const residuals = signal<Residuals | null>(null);

export const largestOf = (list: Residual[]) => Math.max(...list.map((r) => Math.abs(r.t)), 1e-12); // T
// radius of a mark, px: its area goes with the difference.
export const radius = (t: number, largest: number) => 3 + 8 * Math.sqrt(Math.abs(t) / largest);

// diverging is a palette from blue over a pale grey to orange, as many steps either way: of one lightness and chroma at the same distance from the
// middle, so that neither sign looks the greater, and told apart by those who see no red or green. In Oklab (Ottosson 2020).
export const diverging = Array.from({ length: 65 }, (_, i) => {
  const x = i / 32 - 1, far = Math.abs(x), hue = ((x < 0 ? 255 : 55) * Math.PI) / 180;
  const L = 0.95 - 0.42 * far, a = 0.13 * far * Math.cos(hue), b = 0.13 * far * Math.sin(hue);
  const l = (L + 0.3963377774 * a + 0.2158037573 * b) ** 3, m = (L - 0.1055613458 * a - 0.0638541728 * b) ** 3, s = (L - 0.0894841775 * a - 1.291485548 * b) ** 3;
  return [4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s, -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s, -0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s].map((c) =>
    Math.round(255 * Math.min(1, Math.max(0, c <= 0.0031308 ? 12.92 * c : 1.055 * c ** (1 / 2.4) - 0.055))),
  );
});

const most = 2000; // marks, and numbers beside the first of them
const mostNumbers = 80;
const axes = ["x", "y", "z"] as const;

export const signed = (x: number, n = 3) => (x > 0 ? "+" : "") + figures(x, n);

// spread is how far places lie apart along an axis.
function spread(list: Residual[], axis: number): number {
  let low = Infinity, high = -Infinity;
  for (const r of list) [low, high] = [Math.min(low, r.at[axis]!), Math.max(high, r.at[axis]!)];
  return high - low;
}

// widest are the two axes along which places lie farthest apart, in their order.
function widest(list: Residual[]): [number, number] {
  const order = [0, 1, 2].sort((a, b) => spread(list, b) - spread(list, a));
  return order.slice(0, 2).sort((a, b) => a - b) as [number, number];
}

const steps = [1, 2, 5];
function ticks(low: number, high: number): number[] {
  const rough = (high - low) / 5, power = 10 ** Math.floor(Math.log10(rough));
  const step = steps.map((s) => s * power).find((s) => s >= rough) ?? 10 * power;
  const list = [];
  for (let v = Math.ceil(low / step) * step; v <= high + 1e-9 * step; v += step) list.push(+v.toPrecision(9));
  return list;
}

export function ResidualMap({ list, title, stale }: { list: Residual[]; title: string; stale: boolean }) {
  const chosen = useSignal<string>("");
  const plane: [number, number] = chosen.value ? (chosen.value.split("").map(Number) as [number, number]) : widest(list);
  const [u, v] = plane;
  const k = lengthFactor();
  const bounds = (axis: number) => {
    const at = list.map((r) => r.at[axis]! * k);
    let low = Math.min(...at), high = Math.max(...at);
    const room = Math.max(0.18 * (high - low), (0.06 * Math.max(spread(list, u), spread(list, v)) + 1e-3) * k);
    return [low - room, high + room] as const;
  };
  const [u0, u1] = bounds(u), [v0, v1] = bounds(v);
  const width = 720, left = 62, bottom = 46, top = 12, right = 14;
  const across = width - left - right;
  const scale = Math.min(across / (u1 - u0), 460 / (v1 - v0));
  const wide = Math.max(scale * (u1 - u0), 0.999 * across), high = Math.max(120, scale * (v1 - v0));
  const um = (u0 + u1) / 2, vm = (v0 + v1) / 2;
  const X = (x: number) => left + wide / 2 + scale * (x - um), Y = (y: number) => top + high / 2 - scale * (y - vm);
  const height = top + high + bottom;
  const largest = largestOf(list);
  const shown = list.slice(0, most);
  const name = (axis: number) => `${axes[axis]}, ${lengthUnit()}`;
  const uLow = um - wide / 2 / scale, uHigh = um + wide / 2 / scale, vLow = vm - high / 2 / scale, vHigh = vm + high / 2 / scale;
  return (
    <figure class={`chart ${stale ? "stale" : ""}`}>
      <figcaption>
        <span>{title}</span>
        <label>Seen in the plane <select value={`${u}${v}`} onChange={(e) => (chosen.value = e.currentTarget.value)}><option value="01">x and y</option><option value="02">x and z</option><option value="12">y and z</option></select></label>
      </figcaption>
      <svg class="residuals" viewBox={`0 0 ${width} ${height}`} role="img" aria-label={`${title}: ${list.length} places, the largest ${figures(largest * 1e3, 3)} mT. The table of readings has every number.`}>
        <defs><clipPath id="residual-frame"><rect x={left} y={top} width={wide} height={high} /></clipPath></defs>
        <rect class="frame" x={left} y={top} width={wide} height={high} />
        {ticks(uLow, uHigh).map((t) => <g key={`u${t}`}><line class="grid" x1={X(t)} x2={X(t)} y1={top} y2={top + high} /><text x={X(t)} y={top + high + 16} text-anchor="middle">{String(t).replace("-", "−")}</text></g>)}
        {ticks(vLow, vHigh).map((t) => <g key={`v${t}`}><line class="grid" x1={left} x2={left + wide} y1={Y(t)} y2={Y(t)} /><text x={left - 6} y={Y(t) + 4} text-anchor="end">{String(t).replace("-", "−")}</text></g>)}
        <text x={left + wide / 2} y={height - 8} text-anchor="middle">{name(u)}</text>
        <text x={14} y={top + high / 2} text-anchor="middle" transform={`rotate(-90 14 ${top + high / 2})`}>{name(v)}</text>
        <g clip-path="url(#residual-frame)">
          {(look.value?.parts ?? []).map((p) => <rect key={p.name} class="part" x={X(p.bounds_m[0]![u]! * k)} y={Y(p.bounds_m[1]![v]! * k)} width={Math.max(0, scale * k * (p.bounds_m[1]![u]! - p.bounds_m[0]![u]!))} height={Math.max(0, scale * k * (p.bounds_m[1]![v]! - p.bounds_m[0]![v]!))}><title>{p.name}</title></rect>)}
        </g>
        {shown.map((r, i) => {
          const x = X(r.at[u]! * k), y = Y(r.at[v]! * k), s = radius(r.t, largest);
          return (
            <g key={i} class={r.wrong ? "mark wrong" : r.t >= 0 ? "mark more" : "mark less"}>
              {r.t >= 0 ? <circle cx={x} cy={y} r={s} /> : <rect x={x - 0.9 * s} y={y - 0.9 * s} width={1.8 * s} height={1.8 * s} />}
              <title>{`line ${r.line}: ${r.component} ${signed(r.t * 1e3)} mT at x ${length(r.at[0]!)}, y ${length(r.at[1]!)}, z ${length(r.at[2]!)}`}</title>
              {i < mostNumbers && <text x={x + s + 3} y={y + 4}>{signed(r.t * 1e3, 2)}</text>}
            </g>
          );
        })}
      </svg>
      <p><small>Numbers are mT. A round mark reads more than it should, a square one less; the area of a mark goes with the difference. Thin outlines are parts. Places that lie behind one another cover each other: look from another side too.{list.length > most ? ` The first ${most} of ${list.length} are drawn.` : ""}{shown.length > mostNumbers ? ` The first ${mostNumbers} have their numbers.` : ""}</small></p>
    </figure>
  );
}
