import { useSignal } from "@preact/signals";
import { words } from "../ask";
import { catalogue, create, folder, open, step } from "../bench";

const about: Record<string, string> = {
  "facing-pair": "Two magnets face each other, no steel: light, weak, wide open.",
  "framed-pair": "Two magnets in a closed frame of steel bars: strong, stiff, shielded.",
  "c-frame": "Two magnets and a frame open on one side, to reach in.",
  "round-pot": "Two discs in a closed round pot: strongest shielding.",
  "pole-tips": "Discs with tapered steel tips: the field concentrated and evened.",
  "wound-pair": "Two magnets in a yoke wound from iron wire: no heavy machining.",
  "single-block": "One magnet on a plate, the field above its face.",
  "halbach-wedges": "A ring of wedges turned step by step: strong field in a bore, no steel.",
  "halbach-blocks": "The same ring, of plain blocks.",
};

const target = `# A polewright design file: what is wanted. The page's "Find designs" adds the parts.
format = 1
title  = "My magnet"

[target]
field       = "0.5 T"                                   # mean over the region
uniformity  = "1 %"                                     # highest less lowest over the region, of the mean
region      = { shape = "sphere", diameter = "8 mm" }
gap         = "20 mm"                                   # free height along z
stray       = { limit = "0.5 mT", distance = "500 mm" }
temperature = { working = "22 degC", max = "40 degC" }
`;

function free(stem: string): string {
  const taken = new Set(folder.value?.files.map((f) => f.name.toLowerCase()));
  for (let i = 1; ; i++) {
    const name = `${stem}${i > 1 ? `-${i}` : ""}.toml`;
    if (!taken.has(name)) return name;
  }
}

export function StartPage() {
  const fault = useSignal("");
  const written = useSignal(false);
  const run = async (work: () => Promise<void>, to: typeof step.value) => {
    try {
      await work();
      step.value = to;
      fault.value = "";
    } catch (e) {
      fault.value = words(e);
    }
  };
  return (
    <main class="begin" id="main">
      <h1>Begin a magnet, or go on with one</h1>
      {fault.value && <p class="fault" role="alert">{fault.value}</p>}
      <section aria-labelledby="begin-need">
        <h2 id="begin-need">From what you need</h2>
        <p>Say field, gap and evenness; the bench looks for layouts, grades and sizes.</p>
        <button type="button" class="main" onClick={() => run(() => create(free("my-magnet"), target), "need")}>Begin with a target</button>
      </section>
      <section aria-labelledby="begin-layout">
        <h2 id="begin-layout">From a layout</h2>
        <p>
          <label class="check">
            <input type="checkbox" checked={written.value} onChange={(e) => (written.value = e.currentTarget.checked)} /> every part written out, to change one by one
          </label>
        </p>
        <ul class="cards">
          {catalogue.value?.layouts.map((l) => (
            <li key={l.kind}>
              <button type="button" onClick={() => run(() => create(free(`my-${l.kind}`), written.value ? l.written : l.short), "magnet")}>
                <strong>{l.kind}</strong>
                <span>{about[l.kind] ?? ""}</span>
              </button>
            </li>
          ))}
        </ul>
      </section>
      <section aria-labelledby="begin-file">
        <h2 id="begin-file">A file of the folder</h2>
        <p class="path">{folder.value?.folder}</p>
        {folder.value?.files.length === 0 && <p>There is no design file yet.</p>}
        <ul class="files">
          {folder.value?.files.map((f) => (
            <li key={f.name}>
              <button type="button" onClick={() => run(() => open(f.name), "answer")}>{f.name}</button>
              <span>{new Date(f.modified).toLocaleString()}</span>
            </li>
          ))}
        </ul>
      </section>
      <p class="caution">Strong magnets crush fingers, shatter, pull tools and stop pacemakers. What the bench says helps you to plan; local codes and licensed practice decide.</p>
    </main>
  );
}
