// What goes along to the saw and the bench: what to buy, in which order to put it together, what to beware of.
import { signal, useSignal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { ask, Refused, words, type Schemas } from "../ask";
import { asked, file, job, notice, solve, sound, text } from "../bench";
import { saveDownload, saveFile } from "../chart";
import { Row, Start } from "../parts";
import { figures, force, inches, length, lengthUnit, mass } from "../units";
import { costLimit } from "./answer";
import { Drop, Mistakes } from "./measure";
import { Picture } from "./studies";

const shelf = signal<Schemas["Shelf"] | null>(null);
const fault = signal("");
const bill = signal<{ of: string; answer: Schemas["Bill"] } | null>(null);
const steps = job<Schemas["Steps"]>();
const card = job<Schemas["Card"]>();

const key = () => JSON.stringify([text.value, shelf.value?.version]);

async function load() {
  try {
    shelf.value = await ask<Schemas["Shelf"]>("GET", "/api/stock");
    fault.value = "";
  } catch (e) {
    fault.value = words(e);
  }
}

async function keep(content: string, what: string) {
  try {
    shelf.value = await ask<Schemas["Shelf"]>("PUT", "/api/stock", { text: content, base: shelf.value?.version ?? "" });
    fault.value = "";
    if (costLimit.value) solve(0); // it is judged by other prices
    notice.value = `${what} is kept as ${shelf.value.name}.`;
  } catch (e) {
    fault.value = words(e);
    if (e instanceof Refused && e.status === 409) {
      await load();
      fault.value = "Another list was put there meanwhile; this page shows it now. Keep yours once more to put it in its place.";
    }
  }
}

// Shelf is the list itself, to look through and to change; a mistake leads to its line.
function Shelf({ l }: { l: Schemas["Shelf"] }) {
  const mine = useSignal<string | null>(null);
  const area = useRef<HTMLTextAreaElement>(null);
  const box = useRef<HTMLDetailsElement>(null);
  const keepMine = async () => {
    await keep(mine.value!, "The list");
    if (!fault.value) mine.value = null;
  };
  const go = (line: number) => {
    const a = area.current!, lines = a.value.split("\n"), from = lines.slice(0, line - 1).join("\n").length + (line > 1 ? 1 : 0);
    box.current!.open = true;
    a.focus();
    a.setSelectionRange(from, from + (lines[line - 1]?.length ?? 0));
    a.scrollTop = (a.scrollHeight / lines.length) * (line - 4);
  };
  return (
    <>
      {l.problems.length > 0 ? <Mistakes list={l.problems} what={l.name} onGo={go} /> : <p><strong>{l.name}</strong> of the folder is used: {l.count} lines, prices in {l.currency}.</p>}
      <details ref={box} open={l.problems.length > 0}>
        <summary>Look through {l.name} and change it</summary>
        <label for="shelf-text" class="visually-hidden">The list of stock</label>
        <textarea id="shelf-text" class="short" ref={area} spellcheck={false} value={mine.value ?? l.text} onInput={(e) => (mine.value = e.currentTarget.value)} />
        <p class="row">
          <button type="button" class="main" disabled={mine.value === null || mine.value === l.text} onClick={() => void keepMine()}>Keep this list</button>
          <button type="button" disabled={mine.value === null} onClick={() => (mine.value = null)}>Drop my changes</button>
          <button type="button" onClick={() => saveFile(l.name, new Blob([l.text], { type: "text/csv" }))}>Save it elsewhere</button>
        </p>
      </details>
    </>
  );
}

export function Bill() {
  const l = shelf.value;
  useEffect(() => void load(), []);
  useEffect(() => {
    if (!l?.version || l.problems.length || !sound.value || bill.value?.of === key()) return;
    const of = key();
    ask<Schemas["Bill"]>("POST", "/api/bill", { ...asked(), stock: l.text }).then((answer) => ((bill.value = { of, answer }), (fault.value = "")), (e: unknown) => (fault.value = words(e)));
  }, [text.value, l?.version, sound.value]);
  const b = l?.version ? bill.value : null;
  const money = (x: number) => `${x.toLocaleString(undefined, { minimumFractionDigits: 2, maximumFractionDigits: 2 })} ${b?.answer.currency ?? ""}`;
  const csv = () => {
    const rows: (string | number)[][] = [["name", "reference", "number", "unit_price", "cost", "currency"], ...b!.answer.buy.map((p) => [p.name, p.reference ?? "", p.number, p.price, p.cost, b!.answer.currency])];
    saveFile(`${file.value?.name.replace(/\.toml$/i, "") ?? "magnet"}-to-buy.csv`, new Blob([rows.map((r) => r.map((x) => (typeof x === "string" ? `"${x.replaceAll('"', '""')}"` : x)).join(",")).join("\n") + "\n"], { type: "text/csv" }));
  };
  return (
    <section>
      <h3>What to buy, from your stock and prices</h3>
      <Drop label="Drop a list of stock here, or choose one (CSV)" onFile={(f) => (f.size > 4 << 20 ? (fault.value = `${f.name} is over 4 MiB long`) : void f.text().then((t) => keep(t, f.name)))}>
        <p class="row">
          <small>It is kept as {l?.name ?? "stock.csv"} in the folder, in the place of the one before, for all designs there.</small>
          {l && !l.version && <button type="button" onClick={() => void keep(l.example, "An invented list")}>Begin with an invented list</button>}
        </p>
      </Drop>
      {fault.value && <p class="fault" role="alert">{fault.value}</p>}
      {l?.version && <Shelf l={l} />}
      {b && (
        <div class={b.of === key() ? "" : "stale"}>
          <div class="wide">
            <table class="list">
              <caption>To buy</caption>
              <thead><tr><th scope="col">What</th><th scope="col">Number</th><th scope="col">Price</th><th scope="col">Cost</th><th scope="col">Cuts from each bar, mm</th></tr></thead>
              <tbody>
                {b.answer.buy.map((p) => <tr key={p.name}><th scope="row">{p.name} {p.reference && <small>{p.reference}</small>}</th><td class="number">{p.number}</td><td class="number">{money(p.price)}</td><td class="number">{money(p.cost)}</td><td>{(p.bars ?? []).map((bar) => `${bar.cuts.map((c) => `${figures(c.length_m * 1e3, 4)} (${c.parts.join(", ")})`).join(" + ")}, ${figures(bar.offcut_m * 1e3, 3)} left`).join("; ") || (p.need_kg ? `${mass(p.need_kg)} needed` : "")}</td></tr>)}
                <tr><th scope="row">All of it</th><td /><td /><td class="number">{money(b.answer.cost)}</td><td>{b.answer.target ? `at most ${money(b.answer.target.most)} wanted: ${b.answer.target.met ? "met" : "NOT met"}` : ""}</td></tr>
              </tbody>
            </table>
          </div>
          {b.answer.missing.length > 0 && <div class="warning"><strong>Not in the list:</strong><ul>{b.answer.missing.map((m) => <li key={m}>{m}</li>)}</ul></div>}
          <details>
            <summary>Which part is made from what</summary>
            <table class="list">
              <thead><tr><th scope="col">Parts</th><th scope="col">Size</th><th scope="col">Made from</th><th scope="col">Work</th></tr></thead>
              <tbody>{b.answer.parts.map((r, i) => <tr key={i} class={r.missing ? "bad" : ""}><th scope="row">{r.letter} {r.names.join(", ")}</th><td>{r.what}</td><td>{r.stock || "–"}</td><td>{r.missing || r.work}</td></tr>)}</tbody>
            </table>
          </details>
          <p class="row"><button type="button" onClick={csv}>Save what to buy as CSV</button></p>
        </div>
      )}
    </section>
  );
}

// Rows is a table as the server has written it; the head of a column of numbers begins with ">".
function Rows({ caption, head, rows, bad }: { caption: string; head: string[]; rows: string[][]; bad?: (row: string[]) => boolean }) {
  return (
    <div class="wide">
      <table class="list">
        <caption>{caption}</caption>
        <thead><tr>{head.map((h, i) => <th key={i} scope="col">{h.replace(">", "")}</th>)}</tr></thead>
        <tbody>{rows.map((r, i) => <tr key={i} class={bad?.(r) ? "bad" : ""}>{r.map((x, k) => (k === 0 ? <th key={k} scope="row">{x}</th> : <td key={k} class={head[k]!.startsWith(">") ? "number" : ""}>{x}</td>))}</tr>)}</tbody>
      </table>
    </div>
  );
}

export function Assembly() {
  const s = steps.state.value, a = s.answer;
  return (
    <section class={!a || s.of === text.value ? "" : "stale"}>
      <h3>Steps of assembly</h3>
      <p>The order of putting it together, with the pull, the energy and the screws of each step.</p>
      <Start work={steps} disabled={!sound.value} onStart={() => void steps.run("/api/assemble", asked())}>{a ? "Work them out again" : "Work out the steps"}</Start>
      {a && (
        <>
          {a.dangerous_step > 0 && <p class="caution"><strong>Step {a.dangerous_step} does most harm when it gets loose:</strong> {a.dangerous_because}.</p>}
          {a.costs_field_for_good.map((c) => <p key={c} class="warning">{c}</p>)}
          <ol class="steps">
            {a.steps.map((p) => (
              <li key={p.number}>
                <strong>{p.title}</strong> <small>{p.moves.join(", ")}{p.mass_kg ? `, ${mass(p.mass_kg)}` : ""}</small>
                {p.peak_force_N > 0 && (
                  <p class="number">
                    largest force {force(p.peak_force_N)} at {length(p.peak_at_m, 3)}{p.peak_push_N > 0 ? `; push with up to ${force(p.peak_push_N)}` : ""}{p.peak_side_force_N > 1 ? `; aside ${force(p.peak_side_force_N)}` : ""}; {figures(p.energy_J, 3)} J if it lets go, arriving at {figures(p.impact_m_per_s, 2)} m/s
                    {p.screws ? `; ${p.screws.count} jack screws ${p.screws.size}, ${figures(p.screws.torque_Nm, 2)} N·m each` : ""}
                  </p>
                )}
                {p.same_as_step ? <p>As step {p.same_as_step}.</p> : null}
                <ul>{[...p.how, ...p.hold_points.map((h) => `Hold: ${h}`)].map((h) => <li key={h}>{h}</li>)}</ul>
              </li>
            ))}
          </ol>
          {a.order_rows.length > 0 && (
            <>
              <Rows caption="Legs last or legs first" head={["order", ">force N", "in", ">energy J", "in", "verdict"]} rows={a.order_rows} />
              {a.orders_on_magnets && <p>Magnets: {a.orders_on_magnets}.</p>}
            </>
          )}
          <Rows caption={`What the magnets stand in each state, at ${figures(a.temperature_degC, 3)} °C`} head={["state", "magnet", ">at mm", ">lowest H kA/m", ">knee kA/m", ">left %", ">kept %"]} rows={a.strain_rows} bad={(r) => r[5]!.startsWith("-")} />
          {a.costs_field_for_good.length === 0 && <p>No state takes a magnet past its knee as far as that is known.</p>}
          {a.chart && <Picture c={a.chart} alt="Pull against distance for each step that pulls" />}
          <h4>Taking apart</h4>
          <ol>{a.taking_apart.map((t, i) => <li key={i}><strong>{t.what}</strong>{t.begin_N ? `: begins with ${force(t.begin_N)}` : ""}. {t.how}</li>)}</ol>
          {a.storage.length > 0 && <><h4>Storage</h4><ul>{a.storage.map((x) => <li key={x}>{x}</li>)}</ul></>}
          <div class="caution"><ul>{a.cautions.map((x) => <li key={x}>{x}</li>)}</ul></div>
          {a.notes.map((x) => <p key={x}><small>{x}</small></p>)}
          <p><small>By {a.order_by}; at {a.accuracy} accuracy.</small></p>
        </>
      )}
    </section>
  );
}

// plane reads "z=0.029", metres.
function plane(s: string): string {
  const [axis, at] = s.split("=");
  return `${axis} = ${length(Number(at))}`;
}

export function Safety() {
  const s = card.state.value, c = s.answer;
  const stem = file.value?.name.replace(/\.toml$/i, "") ?? "magnet";
  const reach = (m: number) => (m > 0 ? length(m, 3) : "–");
  return (
    <section class={!c || s.of === text.value ? "" : "stale"}>
      <h3>Safety card</h3>
      <p>How far the published limits reach, where loose tools slide and fly, what closes on a hand: a sheet to hang beside the magnet.</p>
      <div class="row">
        <Start work={card} disabled={!sound.value} onStart={() => void card.run("/api/card", { ...asked(), accuracy: "standard", format: "pdf", paper: inches.value ? "letter" : "A4" })}>{c ? "Work it out again" : "Work out the safety card"}</Start>
        {c && !s.running && <button type="button" onClick={() => saveDownload(c.sheet, `${stem}-safety-card.pdf`)}>Save the card as PDF</button>}
      </div>
      {c && (
        <>
          <div class="caution"><ul>{c.cautions.map((x, i) => <li key={i}><strong>{x.title}.</strong> {x.text}</li>)}</ul></div>
          <div class="wide">
            <table class="list">
              <caption>How far from the middle of the parts limits reach</caption>
              <thead><tr><th scope="col">Limit</th><th scope="col">for</th><th scope="col">along x</th><th scope="col">y</th><th scope="col">z</th><th scope="col">farthest</th></tr></thead>
              <tbody>{c.limits.filter((l) => !l.at_m).map((l, i) => <tr key={i}><th scope="row" class="number">{figures(l.field_T * 1e3, 3)} mT</th><td>{l.what} <small>{l.source}{l.from_memory ? " (from memory)" : ""}</small></td><td class="number">{reach(l.reach_m.x)}</td><td class="number">{reach(l.reach_m.y)}</td><td class="number">{reach(l.reach_m.z)}</td><td class="number">{reach(l.reach_m.largest)}</td></tr>)}</tbody>
            </table>
            <table class="list">
              <caption>Loose tools: from how far they move, counted from the box of the parts</caption>
              <thead><tr><th scope="col">Tool</th><th scope="col">slides on a bench</th><th scope="col">is lifted</th></tr></thead>
              <tbody>{c.tools.map((t) => <tr key={t.name}><th scope="row">{t.name}</th><td class="number">{reach(t.slides_m.largest)}</td><td class="number">{reach(t.lifts_m.largest)}</td></tr>)}</tbody>
            </table>
          </div>
          {c.pinch && <table class="list"><caption>What closes on a hand, at {plane(c.pinch.plane)}</caption><tbody><Row what="Largest force" value={force(c.pinch.largest_force_N)} /><Row what="Energy set free" value={`${figures(c.pinch.energy_J, 3)} J`} note={`arriving at ${figures(c.pinch.speed_m_per_s, 2)} m/s if nothing holds it`} /><Row what="More than a hand stands" value={c.pinch.hand_m > 0 ? `closer than ${length(c.pinch.hand_m, 2)}` : "nowhere"} /></tbody></table>}
          <p><small>Lengths in {lengthUnit()}. Estimates without warranty: local codes and licensed practice decide.</small></p>
        </>
      )}
    </section>
  );
}
