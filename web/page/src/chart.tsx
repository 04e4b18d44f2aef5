// A chart of curves: values under the pointer or the arrow keys, and the same chart as SVG (drawn by the server, as in the papers) and CSV.
import { useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import { ask, words, type Schemas } from "./ask";
import { figures } from "./units";

export interface Curve {
  name: string;
  x: number[];
  y: (number | null)[];
  points?: boolean;
}

export interface ChartProps {
  title: string;
  xName: string; // with the unit: "z, mm"
  yName: string;
  curves: Curve[];
  levels?: { name: string; y: number }[];
  logX?: boolean;
  logY?: boolean;
  stale?: boolean;
  height?: number;
  xRange?: [number, number];
  yRange?: [number, number];
}

const strokes = ["--curve1", "--curve2", "--curve3", "--curve4"];
const dashes = [[], [7, 4], [2, 3], [10, 3, 2, 3]];

// unitOf is what stands behind the last comma of an axis' name.
const unitOf = (name: string) => (name.includes(", ") ? ` ${name.slice(name.lastIndexOf(", ") + 2)}` : "");

// em is a pixel of a chart's letters and room, where the page's letters are 15 px high.
const em = () => parseFloat(getComputedStyle(document.documentElement).fontSize) / 15;

function css(name: string): string {
  return getComputedStyle(document.documentElement).getPropertyValue(name).trim();
}

// joined puts curves over one common axis.
function joined(curves: Curve[]): uPlot.AlignedData {
  const x = [...new Set(curves.flatMap((c) => c.x))].sort((a, b) => a - b);
  const at = new Map(x.map((v, i) => [v, i]));
  const ys = curves.map((c) => {
    const y: (number | null | undefined)[] = new Array(x.length).fill(undefined); // undefined: the line goes on
    c.x.forEach((v, i) => (y[at.get(v)!] = c.y[i]));
    return y;
  });
  return [x, ...ys] as uPlot.AlignedData;
}

export function saveFile(name: string, data: Blob) {
  const a = document.createElement("a");
  a.href = URL.createObjectURL(data);
  a.download = name;
  a.click();
  setTimeout(() => URL.revokeObjectURL(a.href), 10_000);
}

export function saveDownload(d: Schemas["Download"], name = d.name) {
  const bytes = Uint8Array.from(atob(d.base64), (c) => c.charCodeAt(0));
  saveFile(name, new Blob([bytes], { type: d.media }));
}

export const fileStem = (title: string) => title.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "");

export function Chart(p: ChartProps) {
  const box = useRef<HTMLDivElement>(null);
  const plot = useRef<uPlot | null>(null);
  const fault = useSignal("");
  const key = JSON.stringify([p.title, p.xName, p.yName, p.logX, p.logY, p.levels, p.xRange, p.yRange, p.curves.map((c) => [c.name, c.points])]);

  useEffect(() => {
    const host = box.current!;
    let k = em();
    const size = () => ({ width: Math.max(240, host.clientWidth), height: k * (p.height ?? 260) });
    const draw = () => {
      plot.current?.destroy();
      k = em();
      const ink = css("--ink"), rule = css("--rule");
      const axis = { stroke: ink, grid: { stroke: rule, width: 1 }, ticks: { stroke: rule, width: 1 }, font: `${13 * k}px system-ui, sans-serif`, labelFont: `${13 * k}px system-ui, sans-serif`, labelSize: 22 * k };
      // Of a logarithmic axis only the powers of ten.
      const powers: uPlot.Axis.Filter = (_, splits) => splits.map((v) => (v > 0 && Math.abs(Math.log10(v) - Math.round(Math.log10(v))) < 1e-6 ? v : null));
      const sparse = { filter: powers, grid: { ...axis.grid, filter: powers }, ticks: { ...axis.ticks, filter: powers }, values: (_: uPlot, v: (number | null)[]) => v.map((x) => (x === null ? "" : String(+x.toPrecision(3)))) };
      const options: uPlot.Options = {
        ...size(),
        legend: { live: true },
        cursor: { drag: { x: true, y: false }, points: { size: 7 } },
        scales: {
          x: { time: false, distr: p.logX ? 3 : 1, ...(p.xRange ? { range: p.xRange } : {}) },
          y: { distr: p.logY ? 3 : 1, ...(p.yRange ? { range: p.yRange } : {}) },
        },
        axes: [
          { ...axis, label: p.xName, size: 40 * k, ...(p.logX ? sparse : {}) },
          { ...axis, label: p.yName, size: 62 * k, ...(p.logY ? sparse : { values: (_: uPlot, v: number[]) => v.map((x) => String(+x.toPrecision(6))) }) },
        ],
        series: [
          { label: p.xName.replace(/, [^,]*$/, ""), value: (_, v) => (v == null ? "–" : figures(v, 5) + unitOf(p.xName)) },
          ...p.curves.map((c, i): uPlot.Series => ({
            label: c.name,
            stroke: css(strokes[i % strokes.length]!),
            dash: dashes[i % dashes.length]!,
            width: c.points ? 0 : 2,
            points: { show: !!c.points, size: 9, fill: css(strokes[i % strokes.length]!) },
            value: (_, v) => (v == null ? "–" : figures(v, 5) + unitOf(p.yName)),
          })),
        ],
        hooks: {
          drawAxes: [
            (u) => {
              for (const l of p.levels ?? []) {
                const y = u.valToPos(l.y, "y", true);
                if (!(y >= u.bbox.top && y <= u.bbox.top + u.bbox.height)) continue;
                u.ctx.save();
                u.ctx.strokeStyle = u.ctx.fillStyle = css("--level");
                u.ctx.setLineDash([4, 4]);
                u.ctx.lineWidth = 1.5 * devicePixelRatio;
                u.ctx.beginPath();
                u.ctx.moveTo(u.bbox.left, y);
                u.ctx.lineTo(u.bbox.left + u.bbox.width, y);
                u.ctx.stroke();
                u.ctx.font = `${12 * k * devicePixelRatio}px system-ui, sans-serif`;
                u.ctx.textAlign = "right";
                u.ctx.textBaseline = "alphabetic";
                u.ctx.fillText(l.name, u.bbox.left + u.bbox.width - 4 * devicePixelRatio, y - 4 * devicePixelRatio);
                u.ctx.restore();
              }
            },
          ],
        },
      };
      plot.current = new uPlot(options, joined(p.curves), host);
    };
    draw();
    const resized = new ResizeObserver(() => (em() === k ? plot.current?.setSize(size()) : draw()));
    resized.observe(host);
    const scheme = matchMedia("(prefers-color-scheme: dark)");
    scheme.addEventListener("change", draw);
    return () => {
      resized.disconnect();
      scheme.removeEventListener("change", draw);
      plot.current?.destroy();
      plot.current = null;
    };
  }, [key]);
  useEffect(() => plot.current?.setData(joined(p.curves)), [p.curves]);

  const step = (e: KeyboardEvent) => {
    const u = plot.current;
    const by = { ArrowLeft: -1, ArrowRight: 1, Home: -1e9, End: 1e9 }[e.key];
    if (!u || by === undefined) return;
    e.preventDefault();
    const x = u.data[0];
    const i = Math.min(x.length - 1, Math.max(0, (u.cursor.idx ?? (by > 0 ? -1 : x.length)) + by));
    u.setCursor({ left: u.valToPos(x[i]!, "x"), top: u.over.clientHeight / 2 });
    spoken.value = [`${p.xName}: ${figures(x[i]!, 5)}`, ...p.curves.map((c, k) => `${c.name}: ${u.data[k + 1]![i] == null ? "–" : figures(u.data[k + 1]![i]!, 5) + unitOf(p.yName)}`)].join("; ");
  };
  const spoken = useSignal("");

  const svg = async () => {
    try {
      const dark = matchMedia("(prefers-color-scheme: dark)").matches;
      const d = await ask<Schemas["Download"]>("POST", "/api/chart", {
        title: p.title, x_name: p.xName, y_name: p.yName, curves: p.curves, levels: p.levels ?? [], log_x: !!p.logX, log_y: !!p.logY, dark,
      });
      saveDownload(d, `${fileStem(p.title)}.svg`);
      fault.value = "";
    } catch (e) {
      fault.value = words(e);
    }
  };
  const csv = () => {
    const d = joined(p.curves);
    const quote = (s: string) => `"${s.replaceAll('"', '""')}"`;
    const unit = p.yName.includes(",") ? p.yName.slice(p.yName.lastIndexOf(",")) : "";
    const rows = [[p.xName, ...p.curves.map((c) => c.name + unit)].map(quote).join(",")];
    d[0].forEach((x, i) => rows.push([x, ...d.slice(1).map((y) => y[i] ?? "")].join(",")));
    saveFile(`${fileStem(p.title)}.csv`, new Blob([rows.join("\n") + "\n"], { type: "text/csv" }));
  };

  return (
    <figure class={`chart ${p.stale ? "stale" : ""}`}>
      <figcaption>
        <span>{p.title}{p.stale && <em class="staleword"> of an earlier design</em>}</span>
        <span class="tools">
          <button type="button" onClick={svg} aria-label={`Save "${p.title}" as SVG`}>SVG</button>
          <button type="button" onClick={csv} aria-label={`Save "${p.title}" as CSV`}>CSV</button>
        </span>
      </figcaption>
      <div ref={box} class="plot" tabIndex={0} role="img" aria-label={`${p.title}: ${p.curves.map((c) => c.name).join(", ")} against ${p.xName}. Left and right arrows read values.`} onKeyDown={step} />
      <p class="visually-hidden" aria-live="polite">{spoken.value}</p>
      {fault.value && <p class="fault" role="alert">{fault.value}</p>}
    </figure>
  );
}
