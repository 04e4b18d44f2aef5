import { useComputed, useSignal } from "@preact/signals";
import { words, type Schemas } from "../ask";
import { asked, hidden, job, look, now, picked, problems, rewrite, sound, step, text } from "../bench";
import { costLimit } from "./answer";
import { Field, Fields, nameOf, parametersOf, Start } from "../parts";
import { figures, length, mass, tesla } from "../units";

const sizing = job<Schemas["Sizes"]>();

export function Need() {
  const sizes = sizing.state.value;
  const list = sizes.answer ? [...sizes.answer.sizing.candidates, ...sizes.answer.sizing.others.slice(0, 8)] : [];
  return (
    <>
      <h2>What do you need?</h2>
      <Fields test={(p) => p.startsWith("target.") && !p.startsWith("target.region.center")} />
      <h3>Find designs</h3>
      <p>Layouts, grades and sizes for this target: by the magnetic circuit within a second, the lightest solved in full if you like.</p>
      {costLimit.value && <p><small>The cost is judged by the prices of your list of stock in the folder; give it under Build.</small></p>}
      <Start work={sizing} onStart={() => void sizing.run("/api/size", { ...asked(), solve: 0 })}>Find designs at once</Start>
      {sizes.answer && !sizes.running && <button type="button" onClick={() => void sizing.run("/api/size", { ...asked(), solve: 2 })}>Solve the best two and correct them</button>}
      {sizes.answer && (
        <div class={sizes.of === text.value ? "" : "stale"}>
          <table class="list">
            <caption>Designs for the target, the lightest first{sizes.of === text.value ? "" : " (for an earlier target)"}</caption>
            <thead><tr><th scope="col">Layout</th><th scope="col">Grade</th><th scope="col">Mass</th><th scope="col">Field</th><th scope="col"><span class="visually-hidden">Take</span></th></tr></thead>
            <tbody>
              {list.map((c, i) => (
                <tr key={i}>
                  <td>{c.layout}{c.solved && c.solved.missed.length > 0 && <small class="fault">{c.solved.missed.join("; ")}</small>}</td>
                  <td>{c.grade}</td>
                  <td class="number">{mass(c.mass_kg)}{c.cost && <small> {c.cost.amount.toFixed(2)} {c.cost.currency}{c.not_in_stock?.length ? " and what is not in stock" : ""}</small>}</td>
                  <td class="number">{c.solved ? tesla(c.solved.gap_b_T) : <>{tesla(c.circuit_gap_b_T, 3)} <small>circuit</small></>}</td>
                  <td><button type="button" onClick={() => void rewrite(sizes.answer!.files[i]!).then(() => (step.value = "magnet"))} aria-label={`Take ${c.layout} of ${c.grade}`}>Take</button></td>
                </tr>
              ))}
            </tbody>
          </table>
          {sizes.answer.sizing.out_of_reach.length > 0 && (
            <details>
              <summary>{sizes.answer.sizing.out_of_reach.length} layouts do not reach it</summary>
              <ul>{sizes.answer.sizing.out_of_reach.map((o) => <li key={o.layout}><strong>{o.layout}</strong>{o.most_b_T ? `, at most ${tesla(o.most_b_T, 3)}` : ""}: {o.why}</li>)}</ul>
            </details>
          )}
          {sizes.answer.sizing.notes.map((n) => <p key={n}><small>Note: {n}.</small></p>)}
        </div>
      )}
    </>
  );
}

// kindsOf says which parameters belong to a step: those of the magnets, or those of all that leads the flux back and holds it.
const magnetWords = ["layout.magnet_", "layout.grade", "layout.gap", "layout.outer_diameter", "layout.bore", "layout.kind", "layout.segments", "layout.blocks", "layout.length", "magnet."];
const ofMagnet = (p: string) => magnetWords.some((w) => p.startsWith(w));
const ofYoke = (p: string) => !ofMagnet(p) && !p.startsWith("target.");

function PartList({ kinds }: { kinds: string[] }) {
  const list = (look.value?.parts ?? []).filter((p) => kinds.includes(p.kind));
  const flip = (name: string) => {
    const next = new Set(hidden.value);
    if (!next.delete(name)) next.add(name);
    hidden.value = next;
  };
  if (!list.length) return <p>There are none.</p>;
  return (
    <ul class="parts">
      {list.map((p) => (
        <li key={p.name} class={picked.value === p.name ? "picked" : ""}>
          <button type="button" aria-pressed={picked.value === p.name} onClick={() => (picked.value = picked.value === p.name ? null : p.name)}>
            <b class={`kind ${p.kind}`} aria-hidden="true">{p.letter}</b> {p.name} <small>{p.shape} {p.size_mm} mm, {p.material}</small>
          </button>
          <label class="check"><input type="checkbox" checked={!hidden.value.has(p.name)} onChange={() => flip(p.name)} aria-label={`Show ${p.name} in the view`} /> show</label>
        </li>
      ))}
    </ul>
  );
}

// Picked edits the part that is picked: its own numbers, or the layout's, from which it follows.
function Picked({ kinds }: { kinds: string[] }) {
  const p = look.value?.parts.find((q) => q.name === picked.value && kinds.includes(q.kind));
  if (!p) return null;
  const own = parametersOf((path) => path.startsWith(`${p.kind}.${p.name}.`));
  return (
    <section class="inset" aria-label={`Part ${p.name}`}>
      <h3>{p.name}</h3>
      <p><small>{p.shape}, {p.size_mm} mm, {p.material}{p.mass_kg ? `, ${mass(p.mass_kg)}` : ""}, middle at {p.center_m.map((x) => length(x)).join(", ")}</small></p>
      {own.length ? (
        <>
          <div class="fields">{own.filter((q) => q.given).map((q) => <Field key={q.path} p={q} label={nameOf(q.path)} />)}</div>
          <TakeAway part={p} />
        </>
      ) : <p>It follows from the lengths of the layout.</p>}
    </section>
  );
}

// TakeAway removes a part's table from the text, from its header to the next.
function TakeAway({ part }: { part: Schemas["Part"] }) {
  const lines = text.value.split("\n");
  const take = () => {
    let end = part.line;
    while (end < lines.length && !/^\s*\[/.test(lines[end]!)) end++;
    while (end > part.line && /^\s*(#.*)?$/.test(lines[end - 1]!) && end < lines.length) end--;
    void rewrite([...lines.slice(0, part.line - 1), ...lines.slice(end)].join("\n"));
  };
  return part.line > 0 ? <button type="button" onClick={take}>Take {part.name} away</button> : null;
}

const snippets: Record<string, string> = {
  magnet: `\n[[magnet]]\nname       = "NAME"\nshape      = "block"\nsize       = ["20 mm", "20 mm", "10 mm"]\ncenter     = ["AT mm", "0 mm", "0 mm"]\nmagnetized = [0, 0, 1]\ngrade      = "N42"\n`,
  steel: `\n[[steel]]\nname     = "NAME"\nshape    = "block"\nsize     = ["20 mm", "20 mm", "10 mm"]\ncenter   = ["AT mm", "0 mm", "0 mm"]\nmaterial = "steel-1018"\n`,
  spacer: `\n[[spacer]]\nname     = "NAME"\nshape    = "block"\nsize     = ["20 mm", "20 mm", "10 mm"]\ncenter   = ["AT mm", "0 mm", "0 mm"]\nmaterial = "aluminium"\n`,
  probe: `\n[[probe]]\nname = "NAME"\nat   = ["0 mm", "0 mm", "0 mm"]\n`,
};

// Add writes a new part beside all others, to be moved where it belongs.
function Add({ kinds }: { kinds: string[] }) {
  const fault = useSignal("");
  const add = async (kind: string) => {
    const taken = text.value;
    let i = 1;
    while (taken.includes(`"${kind} ${i}"`)) i++;
    const at = Math.ceil(((look.value?.box?.max_m[0] ?? 0) * 1e3 + 15) / 5) * 5;
    try {
      await rewrite(`${taken.trimEnd()}\n${snippets[kind]!.replace("NAME", `${kind} ${i}`).replace("AT", String(at))}`);
      picked.value = `${kind} ${i}`;
      fault.value = "";
    } catch (e) {
      fault.value = words(e);
    }
  };
  return (
    <p class="row">
      {kinds.map((k) => <button key={k} type="button" onClick={() => void add(k)}>Add a {k}</button>)}
      {fault.value && <span class="fault" role="alert">{fault.value}</span>}
    </p>
  );
}

export function MagnetStep() {
  return (
    <>
      <h2>Magnets and gap</h2>
      <Fields test={(p) => ofMagnet(p) && p.startsWith("layout.")} rest={false} />
      <h3>Magnets</h3>
      <PartList kinds={["magnet"]} />
      <Picked kinds={["magnet"]} />
      <Add kinds={["magnet"]} />
    </>
  );
}

export function YokeStep() {
  const parts = useComputed(() => now.value?.result.parts.filter((p) => p.kind === "steel" || p.kind === "wound") ?? []);
  const l = look.value?.circuit;
  return (
    <>
      <h2>Yoke, spacers and joints</h2>
      <Fields test={(p) => ofYoke(p) && p.startsWith("layout.")} rest={false} />
      {l && l.leg_b_T > 0 && <p>By the circuit the legs carry <b>{tesla(l.leg_b_T, 3)}</b>{l.back_b_T ? <>, the backs <b>{tesla(l.back_b_T, 3)}</b></> : null}. Common steel is good up to about 1.5 T (common practice, no source).</p>}
      {parts.value.some((p) => p.saturation) && (
        <table class="list">
          <caption>How full the steel is, solved</caption>
          <thead><tr><th scope="col">Part</th><th scope="col">Mean</th><th scope="col">Most</th><th scope="col">of saturation</th></tr></thead>
          <tbody>{parts.value.map((p) => <tr key={p.name}><td>{p.name}</td><td class="number">{tesla(p.mean_b_T, 3)}</td><td class="number">{tesla(p.max_b_T, 3)}</td><td class="number">{figures((p.saturation ?? 0) * 100, 3)} %</td></tr>)}</tbody>
        </table>
      )}
      <h3>Parts</h3>
      <PartList kinds={["steel", "wound", "spacer", "coil"]} />
      <Picked kinds={["steel", "wound", "spacer", "coil"]} />
      <Add kinds={["steel", "spacer"]} />
      <details>
        <summary>Joints, probes and sections</summary>
        <Fields test={(p) => /^(joint|probe|section)\./.test(p)} rest={false} />
        <Add kinds={["probe"]} />
      </details>
    </>
  );
}

// FileText is the design file itself, for those who like it best.
export function FileText() {
  const fault = useSignal("");
  const mine = useSignal<string | null>(null);
  const take = async (t: string) => {
    try {
      await rewrite(t);
      mine.value = null;
      fault.value = "";
    } catch (e) {
      fault.value = words(e);
    }
  };
  return (
    <>
      <label for="file-text" class="visually-hidden">The design file</label>
      <textarea id="file-text" spellcheck={false} value={mine.value ?? text.value} onInput={(e) => (mine.value = e.currentTarget.value)} />
      <p class="row">
        <button type="button" class="main" disabled={mine.value === null || mine.value === text.value} onClick={() => void take(mine.value!)}>Take this text</button>
        <button type="button" disabled={mine.value === null} onClick={() => (mine.value = null)}>Drop my changes</button>
      </p>
      {fault.value && <p class="fault" role="alert">{fault.value}</p>}
    </>
  );
}

export function Problems() {
  if (sound.value || !look.value) return null;
  if (look.value.no_parts) return step.value === "need" ? null : <p class="warning">There are no parts yet: find designs for what you need, or add parts.</p>;
  return (
    <section class="problems" role="alert" aria-label="Mistakes in the design">
      <h3>{problems.value.length === 1 ? "A mistake" : `${problems.value.length} mistakes`} in the design</h3>
      <ul>
        {problems.value.map((p, i) => (
          <li key={i}>{p.line ? <b>line {p.line}: </b> : null}{p.key ? <code>{p.key}</code> : null} {p.what}{p.hint ? <small>{p.hint}</small> : null}</li>
        ))}
      </ul>
      <p><small>Numbers below belong to the last design without a mistake.</small></p>
    </section>
  );
}
