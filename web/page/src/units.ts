// Numbers as people read them. The server speaks SI; lengths are shown in millimetres or inches, as chosen.
import { signal } from "@preact/signals";

export const inches = signal(localStorage.getItem("inches") === "yes");
export function chooseInches(yes: boolean) {
  inches.value = yes;
  localStorage.setItem("inches", yes ? "yes" : "no");
}

export const lengthUnit = () => (inches.value ? "in" : "mm");
export const lengthFactor = () => (inches.value ? 1 / 0.0254 : 1e3);

// figures prints to so many significant digits, without an exponent where people would not write one.
export function figures(x: number, n: number): string {
  if (x === 0 || !Number.isFinite(x)) return Number.isFinite(x) ? "0" : "–";
  const e = Math.floor(Math.log10(Math.abs(x)));
  if (e > 6 || e < -4) return x.toExponential(n - 1);
  return x.toFixed(Math.max(0, n - 1 - e)).replace("-", "−");
}

export function length(m: number, n = 4): string {
  return `${trimmed(m * lengthFactor(), n)} ${lengthUnit()}`;
}

// trimmed drops zeros that say nothing.
export function trimmed(x: number, n: number): string {
  const s = figures(x, n);
  return s.includes(".") && !s.includes("e") ? s.replace(/\.?0+$/, "") : s;
}

export function tesla(b: number, n = 4): string {
  return Math.abs(b) >= 0.01 || b === 0 ? `${figures(b, n)} T` : `${figures(b * 1e3, n)} mT`;
}
export const ppm = (x: number) => (Math.abs(x) < 1e4 ? `${figures(x, 3)} ppm` : `${figures(x / 1e4, 3)} %`);
export const mass = (kg: number) => (inches.value ? `${figures(kg / 0.45359237, 3)} lb` : `${figures(kg, 3)} kg`);
export const force = (n: number) => (inches.value ? `${figures(n / 4.4482216152605, 3)} lbf` : `${figures(n, 3)} N (${figures(n / 9.80665, 2)} kgf)`);
export const seconds = (s: number) => (s < 90 ? `${Math.max(1, Math.round(s))} s` : `${Math.round(s / 60)} min`);

// shown is a length of the file in the unit chosen; other quantities stay as they are written.
export function shown(value: string, si: number | undefined, unit: string | undefined): string {
  if (si === undefined || !unit || !["mm", "in", "cm", "m", "um", "ft"].includes(unit) || unit === lengthUnit()) return value;
  return `${trimmed(si * lengthFactor(), 6)} ${lengthUnit()}`;
}

// written gives a bare number the unit that the field shows.
export function written(text: string, unit: string | undefined): string {
  const t = text.trim().replace(",", ".").replace("−", "-");
  if (!unit || !/^[-+]?[\d.]+(e[-+]?\d+)?$/i.test(t)) return t;
  const isLength = ["mm", "in", "cm", "m", "um", "ft"].includes(unit);
  return `${t} ${isLength ? lengthUnit() : unit}`;
}
