// How even the field is over the region: the difference from the middle, ppm, on a plane through it, with lines of equal difference.
import { signal, useComputed } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import type { Schemas } from "../ask";
import { look, now, text } from "../bench";
import { fileStem, saveFile } from "../chart";
import { colourAt, contour, sizes } from "../lattice";
import { figures, length, lengthFactor, lengthUnit, ppm, tesla, trimmed } from "../units";
import { live } from "./live";

const axes = ["x", "y", "z"];
const across = signal(0);

// region is the target's, or a small ball in the middle of the gap where there is none.
function region(): Schemas["Region"] | null {
  const l = look.value, g = now.value?.result.gap_at_m;
  if (!l || !g) return null;
  if (l.region) return l.region;
  const size = l.box ? 0.05 * Math.min(...[0, 1, 2].map((k) => l.box!.max_m[k]! - l.box!.min_m[k]!)) : 0.005;
  return { shape: "sphere", center_m: g, size_m: [size, size, size], axis: 2 };
}
const sides = (axis: number): [number, number] => (axis === 1 ? [0, 2] : [(axis + 1) % 3, (axis + 2) % 3]);

const map = live<Schemas["Map"]>("/api/plane", () => {
  const r = region();
  if (!r) return null;
  const [u, v] = sides(across.value);
  const at = (s: number) => [r.center_m[u]! + (s * r.size_m[u]!) / 2, r.center_m[v]! + (s * r.size_m[v]!) / 2];
  return { plane: { axis: across.value, at_m: r.center_m[across.value]! }, window: { min_m: at(-1), max_m: at(1) }, cells: 48 };
});

// round is 1, 2 or 5 times a power of ten, the largest not above.
function round(x: number): number {
  const p = 10 ** Math.floor(Math.log10(x));
  return p * (x / p >= 5 ? 5 : x / p >= 2 ? 2 : 1);
}

// scale runs over the middle's value from blue to orange, as light at one end as at the other. Made in OKLab (B. Ottosson, A perceptual color space
// for image processing, 2020), where equal steps look equal.
const scale = Array.from({ length: 65 }, (_, i) => {
  const t = i / 32 - 1, hue = t < 0 ? 4.45 : 0.98, light = 0.97 - 0.45 * Math.abs(t), chroma = 0.145 * Math.abs(t);
  const a = chroma * Math.cos(hue), b = chroma * Math.sin(hue);
  const [l, m, s] = [light + 0.3963377774 * a + 0.2158037573 * b, light - 0.1055613458 * a - 0.0638541728 * b, light - 0.0894841775 * a - 1.291485548 * b].map((x) => x ** 3) as [number, number, number];
  return [4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s, -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s, -0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s].map((x) => {
    const c = Math.min(1, Math.max(0, x));
    return Math.round(255 * (c <= 0.0031308 ? 12.92 * c : 1.055 * c ** (1 / 2.4) - 0.055));
  });
});

interface Picture {
  m: Schemas["Map"];
  r: Schemas["Region"];
  diff: number[]; // ppm
  inside: boolean[];
  middle: number; // T
  low: number;
  high: number; // ppm, over the region's points in the plane
  step: number; // ppm between lines
  top: number; // ppm at the ends of the colours
}

function pictured(m: Schemas["Map"], r: Schemas["Region"]): Picture {
  const b = sizes(m), [u, v] = [m.across, m.up];
  const point = (n: number) => [m.corner_m[0]! + (n % m.columns) * m.step_m, m.corner_m[1]! + Math.floor(n / m.columns) * m.step_m];
  const x = (r.center_m[u]! - m.corner_m[0]!) / m.step_m, y = (r.center_m[v]! - m.corner_m[1]!) / m.step_m;
  const i = Math.min(m.columns - 2, Math.floor(x)), j = Math.min(m.rows - 2, Math.floor(y)), s = x - i, t = y - j, k = j * m.columns + i;
  const middle = (b[k]! * (1 - s) + b[k + 1]! * s) * (1 - t) + (b[k + m.columns]! * (1 - s) + b[k + m.columns + 1]! * s) * t;
  const diff = b.map((x) => 1e6 * (x / middle - 1));
  const flat = r.shape === "box" || (r.shape === "cylinder" && r.axis !== m.plane.axis);
  const inside = b.map((_, n) => {
    const p = point(n), q = [(2 * (p[0]! - r.center_m[u]!)) / r.size_m[u]!, (2 * (p[1]! - r.center_m[v]!)) / r.size_m[v]!];
    return flat ? Math.abs(q[0]!) <= 1 + 1e-9 && Math.abs(q[1]!) <= 1 + 1e-9 : Math.hypot(q[0]!, q[1]!) <= 1 + 1e-9;
  });
  const seen = diff.filter((_, n) => inside[n]);
  const low = Math.min(...seen), high = Math.max(...seen), span = Math.max(1e-3, high - low);
  return { m, r, diff, inside, middle, low, high, step: round(span / 6), top: Math.max(Math.abs(low), Math.abs(high), 1e-3) };
}

const wide = 420; // of the drawing, px
const frame = { left: 62, top: 14, right: 108, bottom: 46 };

// drawn is the map as SVG, as it is shown and saved.
function drawn(p: Picture, ink: string, paper: string, title: string): { svg: string; px: number; high: number } {
  const { m, r } = p, px = wide / Math.max(m.columns, m.rows), w = m.columns * px, h = m.rows * px;
  const X = (x: number) => +(frame.left + (x + 0.5) * px).toFixed(2), Y = (y: number) => +(frame.top + h - (y + 0.5) * px).toFixed(2);
  const out: string[] = [];
  const text = (x: number, y: number, s: string, more = "") => out.push(`<text x="${x}" y="${y}" fill="${ink}" ${more}>${s}</text>`);
  const colour = (d: number) => `#${colourAt(scale, 0.5 + d / p.top / 2).map((c) => Math.round(c).toString(16).padStart(2, "0")).join("")}`;
  out.push('<g shape-rendering="crispEdges">');
  for (let j = 0; j < m.rows; j++)
    for (let i = 0; i < m.columns; i++) out.push(`<rect x="${+(frame.left + i * px).toFixed(2)}" y="${+(frame.top + h - (j + 1) * px).toFixed(2)}" width="${(px + 0.3).toFixed(2)}" height="${(px + 0.3).toFixed(2)}" fill="${colour(p.diff[j * m.columns + i]!)}"/>`);
  out.push("</g>");
  const first = Math.ceil(p.low / p.step);
  for (let k = first; k * p.step <= p.high; k++) {
    const parts = contour(p.diff, m.columns, m.rows, k * p.step);
    if (parts.length) out.push(`<path d="${parts.map(([a, b]) => `M${X(a[0])} ${Y(a[1])}L${X(b[0])} ${Y(b[1])}`).join("")}" stroke="#1d2329" stroke-width="${k === 0 ? 1.8 : 0.9}" fill="none"/>`);
  }
  const [u, v] = [m.across, m.up], flat = r.shape === "box" || (r.shape === "cylinder" && r.axis !== m.plane.axis);
  const cx = X((r.center_m[u]! - m.corner_m[0]!) / m.step_m), cy = Y((r.center_m[v]! - m.corner_m[1]!) / m.step_m), rx = ((r.size_m[u]! / 2 / m.step_m) * px).toFixed(2), ry = ((r.size_m[v]! / 2 / m.step_m) * px).toFixed(2);
  if (!flat) out.push(`<ellipse cx="${cx}" cy="${cy}" rx="${rx}" ry="${ry}" fill="none" stroke="#1d2329" stroke-width="2" stroke-dasharray="6 4"/>`);
  out.push(`<rect x="${frame.left}" y="${frame.top}" width="${w.toFixed(2)}" height="${h.toFixed(2)}" fill="none" stroke="${ink}"/>`);
  for (const s of [-1, 0, 1]) {
    const a = r.center_m[u]! + (s * r.size_m[u]!) / 2, b = r.center_m[v]! + (s * r.size_m[v]!) / 2;
    const say = (x: number) => trimmed(+(x * lengthFactor()).toFixed(6), 3);
    text(X((a - m.corner_m[0]!) / m.step_m), frame.top + h + 18, say(a), 'text-anchor="middle"');
    text(frame.left - 6, Y((b - m.corner_m[1]!) / m.step_m) + 4, say(b), 'text-anchor="end"');
  }
  text(frame.left + w / 2, frame.top + h + 38, `${axes[u]}, ${lengthUnit()}`, 'text-anchor="middle"');
  text(16, frame.top + h / 2, `${axes[v]}, ${lengthUnit()}`, `text-anchor="middle" transform="rotate(-90 16 ${frame.top + h / 2})"`);
  const x = frame.left + w + 16;
  for (let i = 0; i < 65; i++) out.push(`<rect x="${x}" y="${(frame.top + 24 + (64 - i) * 2.4).toFixed(1)}" width="14" height="2.8" fill="#${scale[i]!.map((c) => c.toString(16).padStart(2, "0")).join("")}"/>`);
  text(x, frame.top + 12, "ppm");
  for (const s of [-1, 0, 1]) text(x + 20, frame.top + 24 + (32 - s * 32) * 2.4 + 5, s === 0 ? "0" : `${s > 0 ? "+" : "−"}${figures(p.top, 3)}`);
  text(x, frame.top + 210, "lines every", 'font-size="12"');
  text(x, frame.top + 226, `${figures(p.step, 1)} ppm`, 'font-size="12"');
  const W = Math.ceil(frame.left + w + frame.right), H = Math.ceil(frame.top + h + frame.bottom);
  return { svg: `<svg xmlns="http://www.w3.org/2000/svg" width="${W}" height="${H}" viewBox="0 0 ${W} ${H}" font-family="sans-serif" font-size="13"><title>${title}</title><rect width="${W}" height="${H}" fill="${paper}"/>${out.join("")}</svg>\n`, px, high: h };
}

export function Uniformity() {
  useEffect(() => map.follow(), []);
  const s = map.state.value;
  const picture = useComputed(() => {
    const m = map.state.value.answer, r = region();
    return m && r && m.plane.axis === across.value ? pictured(m, r) : null;
  });
  const p = picture.value;
  const title = `Difference from the middle, plane across ${axes[across.value]}`;
  const stale = s.of !== text.value;
  return (
    <>
      <p class="row">
        <span id="even-axis">Over the region, on the plane through its middle across</span>
        <span role="group" aria-labelledby="even-axis" class="choices">{axes.map((a, i) => <button key={a} type="button" aria-pressed={across.value === i} onClick={() => (across.value = i)}>{a}</button>)}</span>
        {s.running && <small>{s.running.what} …</small>}
      </p>
      {s.fault && <p class="fault" role="alert">{s.fault}</p>}
      {p && <Drawing p={p} title={title} stale={stale} />}
    </>
  );
}

function Drawing({ p, title, stale }: { p: Picture; title: string; stale: boolean }) {
  const host = useRef<HTMLDivElement>(null);
  const spot = useRef<[number, number]>([Math.floor(p.m.columns / 2), Math.floor(p.m.rows / 2)]);
  const read = useRef<HTMLOutputElement>(null);
  const dark = matchMedia("(prefers-color-scheme: dark)").matches;
  const picture = () => drawn(p, dark ? "#e6e9ec" : "#1d2329", dark ? "#1b2127" : "#ffffff", title);
  useEffect(() => {
    const d = picture();
    host.current!.innerHTML = d.svg;
    host.current!.querySelector("svg")!.setAttribute("aria-hidden", "true");
    say();
  }, [p, lengthUnit(), dark]);
  const say = () => {
    const [i, j] = spot.current, k = j * p.m.columns + i, d = p.diff[k]!;
    read.current!.textContent = `${axes[p.m.across]} ${length(p.m.corner_m[0]! + i * p.m.step_m, 3)}, ${axes[p.m.up]} ${length(p.m.corner_m[1]! + j * p.m.step_m, 3)}: ${d < 0 ? "−" : "+"}${ppm(Math.abs(d))}${p.inside[k] ? "" : ", outside the region"}`;
  };
  const move = (i: number, j: number) => {
    spot.current = [Math.min(p.m.columns - 1, Math.max(0, i)), Math.min(p.m.rows - 1, Math.max(0, j))];
    say();
  };
  const hover = (e: PointerEvent) => {
    const svg = host.current!.querySelector("svg")!, box = svg.getBoundingClientRect(), scale = svg.viewBox.baseVal.width / box.width;
    const px = wide / Math.max(p.m.columns, p.m.rows);
    move(Math.floor(((e.clientX - box.left) * scale - frame.left) / px), Math.floor((frame.top + p.m.rows * px - (e.clientY - box.top) * scale) / px));
  };
  const key = (e: KeyboardEvent) => {
    const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[e.key];
    if (!by) return;
    e.preventDefault();
    move(spot.current[0] + by[0]!, spot.current[1] + by[1]!);
  };
  const csv = () => {
    const rows = [`"${axes[p.m.across]}, mm","${axes[p.m.up]}, mm","B, T","difference from the middle, ppm","in the region"`];
    const b = sizes(p.m);
    p.diff.forEach((d, k) => rows.push([1e3 * (p.m.corner_m[0]! + (k % p.m.columns) * p.m.step_m), 1e3 * (p.m.corner_m[1]! + Math.floor(k / p.m.columns) * p.m.step_m), b[k]!, d].map((x) => +x.toPrecision(8)).join(",") + (p.inside[k] ? ",yes" : ",no")));
    saveFile(`${fileStem(title)}.csv`, new Blob([rows.join("\n") + "\n"], { type: "text/csv" }));
  };
  return (
    <figure class={`chart ${stale ? "stale" : ""}`}>
      <figcaption>
        <span>{title}{stale && <em class="staleword"> of an earlier design</em>}</span>
        <span class="tools">
          <button type="button" onClick={() => saveFile(`${fileStem(title)}.svg`, new Blob([picture().svg], { type: "image/svg+xml" }))} aria-label={`Save "${title}" as SVG`}>SVG</button>
          <button type="button" onClick={csv} aria-label={`Save "${title}" as CSV`}>CSV</button>
        </span>
      </figcaption>
      <div ref={host} class="plot evenness" tabIndex={0} role="img" aria-label={`${title}: from ${ppm(p.low)} to ${ppm(p.high)} in the region. Arrow keys read values.`} onPointerMove={hover} onKeyDown={key} />
      <p><output ref={read} aria-live="polite" /></p>
      <p>In this plane of the region {ppm(p.high - p.low)} from the lowest to the highest; {tesla(p.middle, 6)} in the middle. The dashed line bounds the region.</p>
    </figure>
  );
}
