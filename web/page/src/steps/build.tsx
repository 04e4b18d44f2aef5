import { useSignal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { Schemas } from "../ask";
import { asked, file, job, look, sound, text } from "../bench";
import { saveDownload, saveFile } from "../chart";
import { Start } from "../parts";
import { Assembly, Bill, Safety } from "./shop";
import { figures, inches, length, mass } from "../units";

const cutting = job<Schemas["Cutting"]>();
const papers = job<Schemas["Download"]>();
const winding = job<Schemas["WindingSheet"]>();

export function Build() {
  const c = cutting.state.value, w = winding.state.value;
  const drawing = useSignal(0);
  useEffect(() => {
    if (!sound.value || c.of === text.value) return;
    void cutting.run("/api/cut", asked());
    const yoke = look.value?.wounds[0];
    if (yoke) void winding.run("/api/wind", { ...asked(), yoke });
  }, [text.value, sound.value]);
  const drawings = c.answer?.files.filter((f) => f.media === "image/svg+xml") ?? [];
  const shown = drawings[Math.min(drawing.value, drawings.length - 1)];
  const stem = file.value?.name.replace(/\.toml$/i, "") ?? "magnet";
  const download = async (format: string) => {
    const d = await papers.run("/api/papers", { ...asked(), accuracy: "standard", format, paper: inches.value ? "letter" : "A4" });
    if (d) saveDownload(d, `${stem}.${format}`);
  };
  const cutCSV = () => {
    const rows = [["letter", "number", "names", "kind", "shape", "size_mm", "material", "each_kg"], ...c.answer!.items.map((i) => [i.letter, i.number, i.names.join(" / "), i.kind, i.shape, i.size_mm, i.material, i.each_kg])];
    saveFile(`${stem}-cut-list.csv`, new Blob([rows.map((r) => r.map((x) => (typeof x === "string" ? `"${x.replaceAll('"', '""')}"` : x)).join(",")).join("\n") + "\n"], { type: "text/csv" }));
  };
  return (
    <main class="sheet" id="main" tabIndex={-1}>
      <h2>Build it</h2>
      <p class="caution">Read the cautions of the answer first. Halves and magnets snap together from farther than they look; keep pacemakers and loose steel away. Local codes and licensed practice decide.</p>
      <section>
        <h3>Build papers</h3>
        <p>Drawings, parts list, field, forces, safety card and the design file in one document, solved at standard accuracy; with what to buy where there is a list of stock (below).</p>
        <div class="row">
          <Start work={papers} disabled={!sound.value} onStart={() => void download("pdf")}>Make the PDF</Start>
          {!papers.state.value.running && <button type="button" disabled={!sound.value} onClick={() => void download("html")}>Make the HTML page</button>}
        </div>
      </section>
      <section class={c.of === text.value ? "" : "stale"}>
        <h3>Cut list</h3>
        {c.fault && <p class="fault" role="alert">{c.fault}</p>}
        {c.answer && (
          <>
            <table class="list">
              <thead><tr><th scope="col">No.</th><th scope="col">Pieces</th><th scope="col">Part</th><th scope="col">Size, mm</th><th scope="col">Material</th><th scope="col">Each</th><th scope="col">Drawing</th></tr></thead>
              <tbody>
                {c.answer.items.map((i) => (
                  <tr key={i.letter}>
                    <th scope="row">{i.letter}</th>
                    <td class="number">{i.number}</td>
                    <td>{i.names.join(", ")} <small>{i.kind}, {i.shape}</small></td>
                    <td>{i.size_mm}</td>
                    <td>{i.material}</td>
                    <td class="number">{i.each_kg ? mass(i.each_kg) : ""}</td>
                    <td class="row">
                      {c.answer!.files.filter((f) => f.name.startsWith(`${i.file}.`)).map((f) => (
                        <button key={f.name} type="button" onClick={() => saveDownload(f)} aria-label={`Save ${f.name}`}>{f.name.slice(f.name.lastIndexOf(".") + 1).toUpperCase()}</button>
                      ))}
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
            <p class="row"><button type="button" onClick={cutCSV}>Save the cut list as CSV</button></p>
            {c.answer.notes.map((n) => <p key={n}>{n}.</p>)}
          </>
        )}
      </section>
      <Bill />
      {w.fault && <p class="fault" role="alert">Winding sheet: {w.fault}</p>}
      {w.answer && (look.value?.wounds.length ?? 0) > 0 && (
        <section class={w.of === text.value ? "" : "stale"}>
          <h3>Winding sheet: {w.answer.name}</h3>
          <p>
            {w.answer.turns} turns of {w.answer.wire}, {figures(w.answer.wire_length_m, 3)} m, {mass(w.answer.wire_mass_kg)}; {figures(w.answer.hours_low, 2)} to {figures(w.answer.hours_high, 2)} hours by hand, pulled with {figures(w.answer.tension_low_N, 2)} to {figures(w.answer.tension_high_N, 2)} N.
            {" "}{w.answer.spools.count} spools with the spare.
          </p>
          <table class="list">
            <caption>Layer by layer</caption>
            <thead><tr><th scope="col">Layer</th><th scope="col">Turns</th><th scope="col">so far</th><th scope="col">Wire</th><th scope="col">so far</th><th scope="col">Outside</th></tr></thead>
            <tbody>{w.answer.layers.map((l) => <tr key={l.layer}><th scope="row">{l.layer}</th><td class="number">{l.turns}</td><td class="number">{l.running_turns}</td><td class="number">{figures(l.length_m, 3)} m</td><td class="number">{figures(l.running_length_m, 4)} m</td><td class="number">{length(l.outer_m)}</td></tr>)}</tbody>
          </table>
          <ul>{[...w.answer.notes, ...w.answer.non_magnetic].map((n) => <li key={n}>{n}</li>)}</ul>
        </section>
      )}
      {shown && (
        <section class={c.of === text.value ? "" : "stale"}>
          <h3>Drawings</h3>
          <p class="row">
            <label>Sheet <select value={String(drawings.indexOf(shown))} onChange={(e) => (drawing.value = +e.currentTarget.value)}>{drawings.map((d, i) => <option key={d.name} value={String(i)}>{d.name.replace(/\.svg$/, "")}</option>)}</select></label>
            <button type="button" onClick={() => saveDownload(shown)}>SVG</button>
            {c.answer!.files.filter((f) => f.name === shown.name.replace(/\.svg$/, ".dxf")).map((f) => <button key={f.name} type="button" onClick={() => saveDownload(f)}>DXF</button>)}
          </p>
          <img class="drawing" src={`data:image/svg+xml;base64,${shown.base64}`} alt={`Drawing ${shown.name.replace(/\.svg$/, "")}, to scale with its sizes`} />
        </section>
      )}
      <Assembly />
      <Safety />
    </main>
  );
}
