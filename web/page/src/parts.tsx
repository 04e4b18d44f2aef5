// The small pieces that the steps are made of.
import { useSignal, type ReadonlySignal } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";
import { Refused, words, type Progress, type Schemas } from "./ask";
import { catalogue, change, look, problems } from "./bench";
import { lengthUnit, seconds, shown, trimmed, written } from "./units";

type Parameter = Schemas["Parameter"];

const lengthUnits = ["mm", "in", "cm", "m", "um", "ft"];

// Field edits one parameter of the file. Enter or leaving it takes the value; the up and down keys step it.
export function Field({ p, label }: { p: Parameter; label: string }) {
  const id = useId();
  const fault = useSignal("");
  const busy = useSignal(false);
  const typed = useSignal<string | null>(null); // while it is not taken
  const wrong = problems.value.find((q) => q.key === p.path || q.key?.startsWith(`${p.path}.`) || (q.key && p.path === q.key.replace(/\.(\d+)$/, "")));
  const value = shown(p.value, p.si, p.unit);
  const options = choices(p);

  const take = async (text: string) => {
    const to = written(text, p.unit);
    if (to === value || (to === "" && !p.given)) {
      fault.value = "";
      typed.value = null;
      return;
    }
    busy.value = true;
    try {
      await change({ path: p.path, value: to });
      fault.value = "";
      if (typed.value === text) typed.value = null;
    } catch (e) {
      if (e instanceof DOMException) return;
      fault.value = e instanceof Refused ? e.problems.map((q) => q.what + (q.hint ? `: ${q.hint}` : "")).join("; ") : words(e);
    } finally {
      busy.value = false;
    }
  };

  const stepBy = (e: KeyboardEvent) => {
    const input = e.currentTarget as HTMLInputElement;
    if (e.key === "Enter") void take(input.value);
    if (e.key === "Escape") {
      typed.value = null;
      fault.value = "";
    }
    if ((e.key !== "ArrowUp" && e.key !== "ArrowDown") || p.kind === "text") return;
    const m = /^\s*([-+−]?[\d.]+)\s*(.*)$/.exec(input.value);
    if (!m) return;
    e.preventDefault();
    const unit = m[2] || p.unit || "";
    const base = { mm: 0.5, in: 0.02, T: 0.01, mT: 0.1, degC: 1, deg: 1, ppm: 50, "%": 0.1, kg: 0.1, A: 10 }[unit] ?? (p.kind === "number" && Number.isInteger(+m[1]!) ? 1 : 0.01);
    const next = +m[1]!.replace("−", "-") + (e.key === "ArrowUp" ? 1 : -1) * base * (e.shiftKey ? 10 : 1);
    typed.value = `${trimmed(next, 8)} ${unit}`.trim().replace("−", "-");
    void take(typed.value);
  };

  const message = fault.value || (wrong ? wrong.what + (wrong.hint ? `: ${wrong.hint}` : "") : "");
  const shared = { id, "aria-invalid": message ? true : undefined, "aria-describedby": message ? `${id}-fault` : p.meaning ? `${id}-note` : undefined } as const;
  return (
    <div class={`field ${p.given ? "" : "left-out"}`}>
      <label for={id}>{label}</label>
      {options ? (
        <select {...shared} value={p.value} onChange={(e) => void take((e.currentTarget as HTMLSelectElement).value)}>
          {!options.includes(p.value) && <option value={p.value}>{p.value || "–"}</option>}
          {options.map((o) => <option key={o} value={o}>{o}</option>)}
        </select>
      ) : (
        <input
          {...shared} type="text" inputMode={p.kind === "text" ? "text" : "decimal"} autocomplete="off" spellcheck={false} aria-busy={busy.value}
          value={typed.value ?? value} onInput={(e) => (typed.value = e.currentTarget.value)} placeholder={p.unit ? `not set, ${lengthUnits.includes(p.unit) ? lengthUnit() : p.unit}` : "not set"}
          onBlur={() => typed.value !== null && void take(typed.value)} onKeyDown={stepBy}
        />
      )}
      {p.meaning && !message && <small id={`${id}-note`}>{p.meaning}</small>}
      {message && <small id={`${id}-fault`} class="fault" role="alert">{message}</small>}
    </div>
  );
}

// choices are what a word may be, where that is a short list.
function choices(p: Parameter): string[] | null {
  const c = catalogue.value;
  if (!c || p.kind !== "text") return null;
  const key = p.path.slice(p.path.lastIndexOf(".") + 1);
  const table = p.path.slice(0, p.path.indexOf("."));
  if (p.path === "layout.kind") return c.layouts.map((l) => l.kind);
  if (key === "grade") return c.grades.map((g) => g.name);
  if (key === "material") return table === "spacer" ? c.plain : c.steels.map((s) => s.name);
  if (key === "axis") return ["x", "y", "z"];
  if (key === "lay") return ["square", "nested", "random"];
  if (p.path === "target.region.shape") return ["sphere", "cylinder", "box"];
  return null;
}

const plainWords: Record<string, string> = {
  "target.field": "Field in the gap", "target.uniformity": "Spread over the region", "target.gap": "Free gap", "target.mass": "Most mass", "target.cost": "Most cost",
  "target.stray.limit": "Stray limit", "target.stray.distance": "kept from", "target.temperature.working": "Working temperature",
  "target.temperature.max": "Highest temperature", "target.temperature.min": "Lowest temperature", "target.region.shape": "Region", "target.region.diameter": "Region's diameter",
  "target.region.length": "Region's length", "target.region.axis": "Region's axis",
};

export function nameOf(path: string): string {
  const known = plainWords[path];
  if (known) return known;
  const table = path.split(".")[0]!;
  const part = look.value?.parts.map((p) => p.name).find((n) => path.startsWith(`${table}.${n}.`));
  const key = part ? path.slice(table.length + part.length + 2) : path.slice(path.indexOf(".") + 1);
  const said = key.replaceAll("_", " ").replaceAll(".", " ");
  return said.charAt(0).toUpperCase() + said.slice(1);
}

export const parametersOf = (test: (path: string) => boolean) => (look.value?.parameters ?? []).filter((p) => test(p.path));

// Fields lists parameters; those that the file leaves out are folded away.
export function Fields({ test, rest = true }: { test: (path: string) => boolean; rest?: boolean }) {
  const all = parametersOf(test);
  const given = all.filter((p) => p.given), left = all.filter((p) => !p.given);
  return (
    <>
      <div class="fields">{given.map((p) => <Field key={p.path} p={p} label={nameOf(p.path)} />)}</div>
      {rest && left.length > 0 && (
        <details>
          <summary>{left.length} more that may be set</summary>
          <div class="fields">{left.map((p) => <Field key={p.path} p={p} label={nameOf(p.path)} />)}</div>
        </details>
      )}
    </>
  );
}

export function Bar({ p, since, onCancel, what }: { p: Progress; since?: number; onCancel?: () => void; what: string }) {
  void since;
  return (
    <div class="bar" role="group" aria-label={what}>
      <progress max={1} value={p.done} aria-label={what} />
      <span>{p.what}{p.seconds_left ? `, about ${seconds(p.seconds_left)} left` : ""}</span>
      {onCancel && <button type="button" onClick={onCancel}>Stop</button>}
    </div>
  );
}

interface Work {
  state: ReadonlySignal<{ running: Progress | null; fault: string }>;
  cancel: () => void;
}

// Start is a button for a computation, its progress and what went wrong.
export function Start({ work, onStart, children, disabled }: { work: Work; onStart: () => void; children: ComponentChildren; disabled?: boolean }) {
  const s = work.state.value;
  return (
    <div class="start">
      {s.running ? <Bar p={s.running} onCancel={work.cancel} what="Progress" /> : <button type="button" class="main" disabled={disabled} onClick={onStart}>{children}</button>}
      {s.fault && <p class="fault" role="alert">{s.fault}</p>}
    </div>
  );
}

export function Row({ what, value, note, mark }: { what: ComponentChildren; value: ComponentChildren; note?: ComponentChildren; mark?: "good" | "bad" }) {
  return (
    <tr class={mark ?? ""}>
      <th scope="row">{what}</th>
      <td class="number">{value}</td>
      <td>{note}</td>
    </tr>
  );
}
