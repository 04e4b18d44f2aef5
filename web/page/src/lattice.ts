// What follows from a field on a lattice of points: sizes, colours, lines of the field, lines of equal value.
import type { Schemas } from "./ask";

export type Lattice = Schemas["Map"];
type At = [x: number, y: number]; // in points of the lattice

export const sizes = (m: Lattice) => Array.from({ length: m.columns * m.rows }, (_, i) => Math.hypot(m.b_T[3 * i]!, m.b_T[3 * i + 1]!, m.b_T[3 * i + 2]!));

// colourAt is the colour of a share from 0 to 1 of a palette.
export function colourAt(palette: number[][], share: number): [number, number, number] {
  const x = Math.min(1, Math.max(0, share)) * (palette.length - 1), i = Math.min(palette.length - 2, Math.floor(x)), t = x - i;
  return [0, 1, 2].map((k) => palette[i]![k]! * (1 - t) + palette[i + 1]![k]! * t) as [number, number, number];
}

// flowLines follow the field within the plane, about evenly apart: a line begins where none is near, and ends where it meets another, leaves the
// lattice or comes back (after Jobard and Lefer, Creating evenly-spaced streamlines of arbitrary density, 1997). Each has an arrow in its middle.
export function flowLines(m: Lattice): { b: number; segments: At[] }[] {
  const apart = Math.max(m.columns, m.rows) / 26, step = 0.4;
  const wide = Math.ceil(m.columns / apart) + 1, high = Math.ceil(m.rows / apart) + 1;
  const near: At[][] = Array.from({ length: wide * high }, () => []);
  const taken = ([x, y]: At, within: number) => {
    const a = Math.floor(x / apart), b = Math.floor(y / apart);
    for (let j = Math.max(0, b - 1); j <= Math.min(high - 1, b + 1); j++)
      for (let i = Math.max(0, a - 1); i <= Math.min(wide - 1, a + 1); i++) for (const q of near[j * wide + i]!) if (Math.hypot(q[0] - x, q[1] - y) < within) return true;
    return false;
  };
  // way is the direction of the field, null outside the lattice and where there is none.
  const way = (x: number, y: number): [number, number, number] | null => {
    const i = Math.floor(x), j = Math.floor(y);
    if (i < 0 || j < 0 || i >= m.columns - 1 || j >= m.rows - 1) return null;
    const s = x - i, t = y - j, k = 3 * (j * m.columns + i), r = 3 * m.columns;
    const mix = (c: number) => (m.b_T[k + c]! * (1 - s) + m.b_T[k + 3 + c]! * s) * (1 - t) + (m.b_T[k + r + c]! * (1 - s) + m.b_T[k + r + 3 + c]! * s) * t;
    const u = mix(m.across), v = mix(m.up), size = Math.hypot(u, v);
    return size < 1e-7 ? null : [u / size, v / size, size];
  };
  const follow = (from: At, sign: number): At[] => {
    const line: At[] = [];
    let [x, y] = from;
    for (let n = 0; n < 4 * (m.columns + m.rows); n++) {
      const a = way(x, y), b = a && way(x + (sign * step * a[0]) / 2, y + (sign * step * a[1]) / 2);
      if (!b) break;
      x += sign * step * b[0];
      y += sign * step * b[1];
      if (taken([x, y], 0.5 * apart) || (n > 12 && Math.hypot(x - from[0], y - from[1]) < step)) break;
      line.push([x, y]);
    }
    return line;
  };
  const out: { b: number; segments: At[] }[] = [];
  for (let j = 0.5; j < high; j++)
    for (let i = 0.5; i < wide; i++) {
      const seed: At = [i * apart, j * apart];
      if (!way(...seed) || taken(seed, apart)) continue;
      const line = [...follow(seed, -1).reverse(), seed, ...follow(seed, 1)];
      if (line.length * step < 2 * apart) continue;
      for (const p of line) near[Math.floor(p[1] / apart) * wide + Math.floor(p[0] / apart)]?.push(p);
      const k = line.length >> 1, [x, y] = line[k]!, d = way(x, y)!;
      const segments = line.slice(1).flatMap((p, n): At[] => [line[n]!, p]);
      for (const s of [1, -1]) segments.push([x, y], [x - 0.35 * apart * d[0] + s * 0.2 * apart * d[1], y - 0.35 * apart * d[1] - s * 0.2 * apart * d[0]]);
      out.push({ b: d[2], segments });
    }
  return out;
}

// contour is where values on a lattice have a level, as segments, by marching squares.
export function contour(values: ArrayLike<number>, columns: number, rows: number, level: number): [At, At][] {
  const out: [At, At][] = [];
  for (let j = 0; j + 1 < rows; j++)
    for (let i = 0; i + 1 < columns; i++) {
      const at: At[] = [[i, j], [i + 1, j], [i + 1, j + 1], [i, j + 1]];
      const v = at.map(([x, y]) => values[y * columns + x]! - level);
      if (!v.every(Number.isFinite)) continue;
      const ends: At[] = [];
      for (let k = 0; k < 4; k++) {
        const n = (k + 1) % 4, a = v[k]!, b = v[n]!;
        if (a < 0 === b < 0) continue;
        const t = a / (a - b);
        ends.push([at[k]![0] + t * (at[n]![0] - at[k]![0]), at[k]![1] + t * (at[n]![1] - at[k]![1])]);
      }
      // Of a saddle the mean of the corners says which ends belong together.
      if (ends.length === 4 && (v[0]! + v[1]! + v[2]! + v[3]! < 0) !== (v[0]! < 0)) ends.push(ends.shift()!);
      for (let k = 0; k + 1 < ends.length; k += 2) out.push([ends[k]!, ends[k + 1]!]);
    }
  return out;
}
