// Did I get it? Readings of the built magnet against its design: the sheet to measure by, the log, the verdict, what is off, the certificate.
import { effect, signal, useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { ask, Refused, words, type Problem, type Schemas } from "../ask";
import { asked, file, job, notice, sound, text } from "../bench";
import { Chart, saveDownload, type Curve } from "../chart";
import { Row, Start } from "../parts";
import { ResidualMap, residuals, signed } from "../residuals";
import { SceneView } from "../scene";
import { figures, inches, length, lengthFactor, lengthUnit, ppm, tesla } from "../units";

const log = signal<Schemas["Readings"] | null>(null);
const logOf = signal(""); // the design whose log it is
const fault = signal("");
const probe = signal("");
const noise = signal("");
const place = signal("");
const confidence = signal("95");
const verification = job<Schemas["Verification"]>();
const judged = signal(""); // what the verification is of
const sheet = job<Schemas["Download"]>();
const certificate = job<Schemas["Download"]>();

const share = (s: string) => (s.trim() === "" ? 0 : Number(s.replace(",", ".")) / 100);
const question = () => ({
  ...asked(), log: log.value!.text, log_name: log.value!.name, accuracy: "standard", probe: probe.value.trim(), noise: share(noise.value),
  place_m: place.value.trim() === "" ? 0 : Number(place.value.replace(",", ".")) / lengthFactor(), confidence: share(confidence.value),
});
const component = signal(""); // of the charts
const fitted = signal(false); // whether differences are from the fit
const componentsOf = (v: Schemas["Verification"]) => [...new Set(v.readings.map((r) => r.component))];
const chosen = (v: Schemas["Verification"]) => (componentsOf(v).includes(component.value) ? component.value : componentsOf(v)[0]!);
const of = () => JSON.stringify([text.value, log.value?.version, probe.value, noise.value, place.value, confidence.value]);

effect(() => {
  const v = verification.state.value.answer;
  if (!v?.readings.length || logOf.value !== file.value?.name) {
    residuals.value = null;
    return;
  }
  const list = v.readings.filter((r) => r.component === chosen(v)).map((r) => {
    const predicted = fitted.value ? r.fitted_T : r.predicted_T;
    return { line: r.line, at: r.at_m, component: r.component, read: r.corrected_T, predicted, t: r.corrected_T - predicted, sigma: r.standard_uncertainty_T, wrong: !!r.wrong };
  });
  residuals.value = { list, component: chosen(v), than: fitted.value ? "with what is off" : "of the design", stale: judged.value !== of() };
});

async function load(name: string) {
  try {
    const r = await ask<Schemas["Readings"]>("GET", `/api/readings/${encodeURIComponent(name)}`);
    if (file.value?.name !== name) return;
    log.value = r;
    fault.value = "";
  } catch (e) {
    fault.value = words(e);
  }
}

// take keeps a log beside the design, in the place of the one that this page has seen there.
async function take(f: File) {
  const name = file.value!.name;
  if (f.size > 4 << 20) {
    fault.value = `${f.name} is over 4 MiB long: is it the right file?`;
    return;
  }
  try {
    const put = (base: string) => ask<Schemas["Readings"]>("PUT", `/api/readings/${encodeURIComponent(name)}`, { text: words, base });
    const words = await f.text();
    let kept: Schemas["Readings"];
    try {
      kept = await put(log.value?.version ?? "");
    } catch (e) {
      if (!(e instanceof Refused) || e.status !== 409) throw e;
      await load(name);
      fault.value = `Another log was put there meanwhile; this page shows it now. Choose ${f.name} once more to put it in its place.`;
      return;
    }
    log.value = kept;
    fault.value = "";
    notice.value = `${f.name} is kept as ${kept.name}.`;
    if (kept.problems.length === 0) void judge();
  } catch (e) {
    fault.value = words(e);
  }
}

async function judge() {
  const what = of();
  if (await verification.run("/api/verify", question())) judged.value = what;
}

// Mistakes are those of a table, as the command prints them; onGo leads to a line of it.
export function Mistakes({ list, what, onGo }: { list: Problem[]; what: string; onGo?: (line: number) => void }) {
  const place = (p: Problem) => <code>{[p.file ?? "", p.line ? String(p.line) : ""].filter(Boolean).join(":")}</code>;
  return (
    <div class="problems" role="alert">
      <h3>{list.length === 1 ? `A mistake in ${what}` : `${list.length} mistakes in ${what}`}</h3>
      <ul>{list.map((p, i) => <li key={i}>{onGo && p.line ? <button type="button" class="head" onClick={() => onGo(p.line!)}>{place(p)}</button> : place(p)}{p.key ? `, column ${p.key}` : ""}: {p.what}{p.hint && <small>{p.hint}</small>}</li>)}</ul>
    </div>
  );
}

// Drop takes a file that is dropped or chosen.
export function Drop({ label, onFile, children }: { label: string; onFile: (f: File) => void; children?: preact.ComponentChildren }) {
  const over = useSignal(false);
  return (
    <div
      class={`drop ${over.value ? "over" : ""}`}
      onDragOver={(e) => (e.preventDefault(), (over.value = true))} onDragLeave={() => (over.value = false)}
      onDrop={(e) => {
        e.preventDefault();
        over.value = false;
        const f = e.dataTransfer?.files[0];
        if (f) onFile(f);
      }}
    >
      <label>{label} <input type="file" accept=".csv,text/csv,text/plain" onChange={(e) => {
        const f = e.currentTarget.files?.[0];
        if (f) onFile(f);
        e.currentTarget.value = "";
      }} /></label>
      {children}
    </div>
  );
}

const milli = (t: number, n = 4) => `${figures(t * 1e3, n)} mT`;

// amount is a number of the fit in the unit that people read it in.
function amount(x: number, unit: string, n = 3): string {
  if (unit === "1") return `${figures(100 * x, n)} %`;
  if (unit === "m") return length(x, n);
  if (unit === "rad") return `${figures((180 / Math.PI) * x, n)}°`;
  if (unit === "T") return milli(x, n);
  if (unit === "ppm") return ppm(x);
  return `${figures(x, n)} ${unit}`;
}
const quantity = (x: number, unit: string) => (unit === "T" ? tesla(x, 5) : amount(x, unit));

// withBand prints a number and its uncertainty in one unit, to two figures of the uncertainty.
function withBand(x: number, band: number, unit: string): string {
  const [k, name] = unit === "T" ? (Math.abs(x) >= 0.01 ? [1, "T"] : [1e3, "mT"]) : unit === "ppm" && Math.abs(x) >= 1e4 ? [1e-4, "%"] : [1, unit];
  const places = band > 0 ? Math.min(8, Math.max(0, 1 - Math.floor(Math.log10(k * band)))) : 3;
  return `${(k * x).toFixed(places)} ± ${(k * band).toFixed(places)} ${name}`.replaceAll("-", "−");
}

// share of the probe in what was read, to two figures of what is usual.
function correction(f: Schemas["FittedValue"]): string {
  const [k, name] = f.unit === "1" ? [100, "%"] : f.unit === "m" ? [lengthFactor(), lengthUnit()] : f.unit === "rad" ? [180 / Math.PI, "°"] : f.unit === "T" ? [1e3, "mT"] : [1, f.unit];
  const places = Math.min(6, Math.max(0, 2 - Math.floor(Math.log10(k * f.usual_spread))));
  const x = +(k * f.value).toFixed(places) || 0;
  return `${x > 0 ? "+" : ""}${x.toFixed(places)}${f.standard_uncertainty > 0 ? ` ± ${(k * f.standard_uncertainty).toFixed(places)}` : ""} ${name}`.replaceAll("-", "−");
}
const where = (p: number[]) => `x ${length(p[0]!)}, y ${length(p[1]!)}, z ${length(p[2]!)}`;

function Verdict({ v }: { v: Schemas["Verification"] }) {
  const mark = v.verdict === "met" ? "good" : v.verdict === "not met" ? "bad" : "open";
  return (
    <>
      <p class={`verdict ${mark}`} role="status"><strong>{v.verdict === "met" ? "✓ Met" : v.verdict === "not met" ? "✗ Not met" : "? Undecided"}</strong> {v.reason}</p>
      <p>With {figures(100 * v.as_designed_probability, 3)} % nothing is off beyond the usual spreads of probe and readings. Intervals hold with {figures(100 * v.confidence, 3)} %. The prediction itself is good to about {figures(v.estimated_error_percent, 2)} %.</p>
      {v.checks.length > 0 && (
        <table class="list">
          <caption>Against the target</caption>
          <thead><tr><th scope="col">What</th><th scope="col">Wanted</th><th scope="col">By the design</th><th scope="col">As built</th><th scope="col">Chance that it is met</th><th scope="col">Verdict</th></tr></thead>
          <tbody>
            {v.checks.map((c) => (
              <tr key={c.what} class={c.verdict === "met" ? "good" : c.verdict === "not met" ? "bad" : ""}>
                <th scope="row">{c.what}</th>
                <td class="number">{c.at_most ? "at most" : "at least"} {quantity(c.wanted, c.unit)}</td>
                <td class="number">{quantity(c.designed, c.unit)}</td>
                <td class="number">{withBand(c.got, c.uncertainty, c.unit)}</td>
                <td class="number">{figures(100 * c.probability, 3)} %</td>
                <td>{c.verdict}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <h3>What is off</h3>
      {v.findings.length > 0 ? <ul>{v.findings.map((f, i) => <li key={i}><strong>{f.text}</strong> <small>with {figures(100 * f.confidence, 3)} %</small></li>)}</ul> : <p>The readings single out nothing: no part is named where they do not show it.</p>}
      {v.suspects.length > 0 && <><p>{v.findings.length > 0 ? "In its place it may be:" : "It may be, and the readings do not tell which:"}</p><ul>{v.suspects.map((f, i) => <li key={i}>{f.text} <small>with {figures(100 * f.confidence, 3)} %</small></li>)}</ul></>}
      {v.next_reading && <p class="caution"><strong>Read next:</strong> {v.next_reading.component} at {where(v.next_reading.at_m)}{v.next_reading.readings > 1 ? `, ${v.next_reading.readings} times` : ""}. It tells “{v.next_reading.between[0]}” ({milli(v.next_reading.expected_T[0]!)}) from “{v.next_reading.between[1]}” ({milli(v.next_reading.expected_T[1]!)}).</p>}
      {v.alike.length > 0 && <p>These readings do not tell apart: {v.alike.map((a) => `${a[0]} and ${a[1]}`).join("; ")}.</p>}
      {v.unseen.length > 0 && <p>These readings say nothing of: {v.unseen.join(", ")}.</p>}
      {v.wrong_lines.length > 0 && <p class="warning">Readings that fit in with nothing, lines {v.wrong_lines.join(", ")}: read those places again.</p>}
      {v.warnings.map((w) => <p key={w} class="warning">{w}</p>)}
    </>
  );
}

function Charts({ v, stale }: { v: Schemas["Verification"]; stale: boolean }) {
  const known = componentsOf(v), c = chosen(v);
  const list = v.readings.map((r, i) => ({ ...r, number: i + 1 })).filter((r) => r.component === c);
  // Where only one coordinate changes, the chart runs along it.
  const axis = [0, 1, 2].find((k) => [0, 1, 2].every((j) => j === k || list.every((r) => Math.abs(r.at_m[j]! - list[0]!.at_m[j]!) < 1e-7)) && new Set(list.map((r) => r.at_m[k])).size === list.length && list.length > 1);
  const sorted = axis === undefined ? list : [...list].sort((a, b) => a.at_m[axis]! - b.at_m[axis]!);
  const x = sorted.map((r) => (axis === undefined ? r.number : +(r.at_m[axis]! * lengthFactor()).toPrecision(7)));
  const xName = axis === undefined ? "reading number" : `${"xyz"[axis]}, ${lengthUnit()}`;
  const line = axis !== undefined;
  const curves: Curve[] = [
    { name: "design predicts", x, y: sorted.map((r) => r.predicted_T * 1e3), points: !line },
    { name: "with what is off", x, y: sorted.map((r) => r.fitted_T * 1e3), points: !line },
    { name: "read, corrected", x, y: sorted.map((r) => r.corrected_T * 1e3), points: true },
  ];
  const off = (r: (typeof list)[number]) => r.corrected_T - (fitted.value ? r.fitted_T : r.predicted_T);
  const differences: Curve[] = [
    { name: "difference", x, y: sorted.map((r) => off(r) * 1e3), points: true },
    { name: "twice its uncertainty", x, y: sorted.map((r) => 2e3 * r.standard_uncertainty_T) },
    { name: "and below", x, y: sorted.map((r) => -2e3 * r.standard_uncertainty_T) },
  ];
  const than = fitted.value ? "with what is off" : "of the design";
  return (
    <section aria-label="Charts of the readings">
      <h3>Predicted and read</h3>
      <p class="row">
        {known.length > 1 && <label>Component <select value={c} onChange={(e) => (component.value = e.currentTarget.value)}>{known.map((k) => <option key={k}>{k}</option>)}</select></label>}
        <label class="check"><input type="checkbox" checked={fitted.value} onChange={(e) => (fitted.value = e.currentTarget.checked)} /> differences from the fit, what is off allowed for</label>
        <span>rms {milli(fitted.value ? v.residual_rms_T : v.difference_rms_T, 3)}</span>
      </p>
      <div class="two">
        <Chart title={`${c}: predicted and read`} xName={xName} yName={`${c}, mT`} curves={curves} stale={stale} />
        <Chart title={`${c}: reading less the prediction ${than}`} xName={xName} yName="difference, mT" curves={differences} levels={[{ name: "", y: 0 }]} stale={stale} />
      </div>
      <ResidualMap list={residuals.value?.list ?? []} title={`${c}: reading less the prediction ${than}, by place`} stale={stale} />
      <SceneView editing={false} />
      <details>
        <summary>Every reading</summary>
        <div class="wide">
          <table class="list">
            <thead><tr><th scope="col">Line</th><th scope="col">Place</th><th scope="col">What</th><th scope="col">Read</th><th scope="col">Corrected</th><th scope="col">Predicted</th><th scope="col">Difference</th><th scope="col">Uncertainty</th></tr></thead>
            <tbody>
              {v.readings.slice(0, 2000).map((r, i) => (
                <tr key={i} class={r.wrong ? "bad" : ""}>
                  <th scope="row">{r.line}</th><td>{where(r.at_m)}</td><td>{r.component}{r.wrong && " fits in with nothing"}</td>
                  <td class="number">{milli(r.read_T)}</td><td class="number">{milli(r.corrected_T)}</td><td class="number">{milli(r.predicted_T)}</td>
                  <td class="number">{signed((r.corrected_T - r.predicted_T) * 1e3)} mT</td><td class="number">{milli(r.standard_uncertainty_T, 2)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      </details>
    </section>
  );
}

export function Measure() {
  const name = file.value!.name;
  useEffect(() => {
    if (logOf.value !== name) {
      log.value = null;
      fault.value = "";
      verification.cancel();
      verification.state.value = { answer: null, of: "", running: null, fault: "" };
      logOf.value = name;
    }
    void load(name);
  }, [name]);
  const l = log.value, w = verification.state.value, v = w.answer;
  const good = !!l && l.version !== "" && l.problems.length === 0;
  const stale = v !== null && judged.value !== of();
  const stem = name.replace(/\.toml$/i, "");
  useEffect(() => {
    if (good && sound.value && !v && !w.running && !w.fault) void judge(); // a log that is there already, after a reload
  }, [good, sound.value]);
  const write = async (format: string) => {
    const d = await sheet.run("/api/sheet", { ...asked(), accuracy: "standard", probe: probe.value.trim(), format, paper: inches.value ? "letter" : "A4" });
    if (d) saveDownload(d, format === "csv" ? `${stem}-to-fill-in.csv` : `${stem}-sheet.${format}`);
  };
  const certify = async () => {
    const d = await certificate.run("/api/certificate", { ...question(), format: "pdf", paper: inches.value ? "letter" : "A4" });
    if (d) saveDownload(d, `${stem}-certificate.pdf`);
  };
  return (
    <main class="sheet" id="main" tabIndex={-1}>
      <h2>Measure it: did I get it?</h2>
      <p class="caution">Hold the probe in a stand and keep hands, steel tools and watches out of the gap: a steel tool that is drawn in can break magnets and fingers. Keep pacemakers away. Let magnet and probe reach the temperature of the room first.</p>
      <section>
        <h3>1. The sheet to measure by</h3>
        <p>Where to read, what the probe should show there, and the band in which a sound build lies. Print it, or fill in the log and drop it below.</p>
        <div class="row">
          <label>Probe’s active area <input type="text" value={probe.value} onInput={(e) => (probe.value = e.currentTarget.value)} placeholder={good && l.probe !== "point" ? l.probe : "point, disc 2 mm, rectangle 1 mm x 2 mm"} size={34} /></label>
        </div>
        <div class="row">
          <Start work={sheet} disabled={!sound.value} onStart={() => void write("pdf")}>Sheet as PDF</Start>
          {!sheet.state.value.running && <button type="button" disabled={!sound.value} onClick={() => void write("csv")}>Log to fill in (CSV)</button>}
        </div>
      </section>
      <section>
        <h3>2. The readings</h3>
        <Drop label="Drop a log here, or choose one (CSV)" onFile={(f) => void take(f)}>
          <p><small>A header such as <code>x_mm,y_mm,z_mm,Bz_mT</code>; where wanted <code>T_degC</code> and <code>u_mT</code>. It is kept as {l?.name ?? "a file"} beside the design, in the place of the one before, and is there again after a reload.</small></p>
        </Drop>
        {fault.value && <p class="fault" role="alert">{fault.value}</p>}
        {l && l.version !== "" && l.problems.length === 0 && <p><strong>{l.name}</strong>: {l.count} readings, probe: {probe.value.trim() || l.probe}.</p>}
        {l && l.problems.length > 0 && <Mistakes list={l.problems} what={l.name} />}
        {l && l.version === "" && <p>There is no log yet.</p>}
        <details>
          <summary>How sure readings are</summary>
          <div class="row">
            <label>Uncertainty of a reading, % <input type="text" inputMode="decimal" size={6} value={noise.value} onInput={(e) => (noise.value = e.currentTarget.value)} placeholder="by scatter" /></label>
            <label>of its place, {lengthUnit()} <input type="text" inputMode="decimal" size={6} value={place.value} onInput={(e) => (place.value = e.currentTarget.value)} placeholder={inches.value ? "0.002" : "0.05"} /></label>
            <label>Confidence, % <input type="text" inputMode="decimal" size={6} value={confidence.value} onInput={(e) => (confidence.value = e.currentTarget.value)} /></label>
          </div>
          <p><small>One standard deviation each. Left empty, the scatter of the readings says how sure they are, and a place is taken to be good to 0.05 mm (common practice, no source).</small></p>
        </details>
        {good && <Start work={verification} disabled={!sound.value} onStart={() => void judge()}>{v && !stale ? "Compare again" : "Compare with the design"}</Start>}
        {!sound.value && <p>The design has mistakes: mend them first.</p>}
      </section>
      {v && (
        <section class={stale ? "stale" : ""} aria-label="Verdict">
          <h3>3. The verdict{stale && <em class="staleword"> of an earlier design, log or setting</em>}</h3>
          <Verdict v={v} />
          <Charts v={v} stale={stale} />
          <h3>Corrections used</h3>
          <table class="list">
            <tbody>
              <Row what="Temperature" value={`${figures(v.reference_degC, 3)} °C`} note="readings with a temperature are brought to it, by the magnets’ coefficients" />
              <Row what="Probe" value={v.probe} note="the prediction is averaged over its active area" />
              <Row what="Uncertainty of readings" value={v.noise} />
              {v.instrument.map((f, i) => <Row key={i} what={`Probe’s ${f.what}`} value={correction(f)} note={`usual ${amount(f.usual_spread, f.unit, 2)}`} />)}
            </tbody>
          </table>
          {Object.keys(v.notes).length > 0 && <details><summary>Notes of the log</summary><table class="list"><tbody>{Object.entries(v.notes).map(([k, t]) => <Row key={k} what={k} value={t} />)}</tbody></table></details>}
          <h3>4. The certificate</h3>
          <p>What was measured against prediction and target, with hashes of the design and the log.</p>
          <Start work={certificate} disabled={!good || !sound.value || stale} onStart={() => void certify()}>Certificate as PDF</Start>
        </section>
      )}
    </main>
  );
}
