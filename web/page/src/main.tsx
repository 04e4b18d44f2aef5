// The page: what is needed, magnet, yoke, answer, build, in the order in which a builder works. Preact, because it is three kilobytes of a component model
// that many know, has been kept up for ten years, and its signals redraw only what a number touches.
import { effect, useSignal } from "@preact/signals";
import { render } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { ask, away, words, type Schemas } from "./ask";
import { cancel, canRedo, canUndo, catalogue, close, conflict, draft, file, follow, look, notice, open, redo, refreshFolder, save, saveFault, saveState, settle, solve, sound, step, text, undo, whole, type Solve, type Step } from "./bench";
import { Bar } from "./parts";
import { SceneView } from "./scene";
import { FileText, MagnetStep, Need, Problems, YokeStep } from "./steps/edit";
import { Answer, Charts, noPrices } from "./steps/answer";
import { Build } from "./steps/build";
import { Compare } from "./steps/compare";
import { Measure } from "./steps/measure";
import { StartPage } from "./steps/start";
import { Studies } from "./steps/studies";
import { chooseInches, figures, inches, mass, ppm, tesla } from "./units";
import "./style.css";

const order: [Step, string][] = [["need", "Need"], ["magnet", "Magnet"], ["yoke", "Yoke"], ["answer", "Answer"], ["build", "Build"], ["measure", "Measure"]];

function Head() {
  const f = file.value;
  const saved = { saved: "saved", unsaved: "not saved yet", saving: "saving", failed: "NOT saved" }[saveState.value];
  return (
    <header>
      <a class="skip" href="#main">Skip to the work</a>
      <span class="brand">polewright bench</span>
      {f && (
        <>
          <nav aria-label="Order of work">
            <ol>
              {order.map(([k, name], i) => (
                <li key={k}><button type="button" aria-current={step.value === k ? "step" : undefined} onClick={() => (step.value = k)}><span aria-hidden="true">{i + 1}</span> {name}</button></li>
              ))}
            </ol>
            <button type="button" aria-current={step.value === "studies" ? "page" : undefined} onClick={() => (step.value = "studies")}>Studies</button>
            <button type="button" aria-current={step.value === "compare" ? "page" : undefined} onClick={() => (void refreshFolder(), (step.value = "compare"))}>Compare</button>
          </nav>
          <span class="spring" />
          <span class={`saved ${saveState.value}`} title={[f.name, saveFault.value].filter(Boolean).join(": ")}><span class="name">{f.name}</span> <small role="status">{saved}</small></span>
          <button type="button" disabled={!canUndo.value} onClick={() => void undo()} aria-keyshortcuts="Control+Z">Undo</button>
          <button type="button" disabled={!canRedo.value} onClick={() => void redo()} aria-keyshortcuts="Control+Shift+Z">Redo</button>
          <button type="button" onClick={() => void close()}>Close</button>
        </>
      )}
      {!f && <span class="spring" />}
      <label class="check"><span class="visually-hidden">Lengths</span> <select title="Lengths" value={inches.value ? "in" : "mm"} onChange={(e) => chooseInches(e.currentTarget.value === "in")}><option value="mm">mm</option><option value="in">inch</option></select></label>
    </header>
  );
}

function Figure({ name, value, stale, note }: { name: string; value: string; stale: boolean; note?: string }) {
  return (
    <div class={`figure ${stale ? "stale" : ""}`}>
      <dt>{name}</dt>
      <dd>{value}{note && <small> {note}</small>}{stale && <span class="visually-hidden"> of an earlier design</span>}</dd>
    </div>
  );
}

// Live is the strip of figures that follow every change: the circuit at once, then the draft, then the whole answer.
function Live() {
  const l = look.value, d = draft.value, w = whole.value;
  const size = (s: Solve) => (s.result ? tesla(Math.hypot(...(s.result.gap_b_T as [number, number, number])), 4) : "–");
  const best = w.result && (w.of === text.value || !d.result || d.of !== text.value) ? w : d;
  const r = best.result;
  const met = w.result?.target ?? [];
  const running = [d, w].find((s) => s.running);
  const long = useSignal(false);
  useEffect(() => {
    long.value = false;
    if (!running) return;
    const t = setTimeout(() => (long.value = true), 1000);
    return () => clearTimeout(t);
  }, [!!running, running === w]);
  return (
    <section class="live" aria-label="The answer so far">
      <dl>
        <Figure name="Circuit" value={l?.circuit ? tesla(l.circuit.gap_b_T, 3) : "–"} stale={!sound.value} note={l?.no_circuit && sound.value ? "knows pairs and their yokes only" : ""} />
        <Figure name="Draft" value={size(d)} stale={d.of !== text.value} note={d.result ? `±${figures(d.result.solver.estimated_error_percent, 1)} %` : ""} />
        <Figure name="Solved" value={size(w)} stale={w.of !== text.value} note={w.result ? `±${figures(w.result.solver.estimated_error_percent, 1)} %` : ""} />
        {r?.region && <Figure name="Spread" value={ppm(r.region.peak_to_peak_ppm)} stale={best.of !== text.value} />}
        {l && l.mass_kg > 0 && <Figure name="Mass" value={mass(l.mass_kg)} stale={!sound.value} />}
        {(met.length > 0 || noPrices(w.result)) && <Figure name="Needs" value={met.every((c) => c.met) ? (noPrices(w.result) ? "cost not known" : "all met") : `${met.filter((c) => !c.met).length} of ${met.length} NOT met`} stale={w.of !== text.value} />}
      </dl>
      {running && long.value && <Bar p={running.running!} what={running === d ? "Draft" : "Whole answer"} onCancel={cancel} />}
      {!running && sound.value && w.of !== text.value && !d.fault && !w.fault && <button type="button" onClick={() => solve(0)}>Solve</button>}
      {(d.fault || w.fault) && <p class="fault" role="alert">{d.fault || w.fault}</p>}
    </section>
  );
}

function Conflict() {
  const box = useRef<HTMLDialogElement>(null);
  const name = useSignal("");
  const c = conflict.value;
  useEffect(() => {
    if (c) {
      name.value = (file.value?.name ?? "magnet.toml").replace(/\.toml$/i, "-mine.toml");
      box.current?.showModal();
    } else box.current?.close();
  }, [c]);
  return (
    <dialog ref={box} aria-labelledby="conflict-head" onCancel={(e) => e.preventDefault()}>
      <h2 id="conflict-head">{file.value?.name} was changed elsewhere</h2>
      <p>Another page or an editor has written it since this page has read it. Nothing is lost: choose.</p>
      {c && (
        <div class="both">
          <section><h3>This page's</h3><pre tabIndex={0}>{differing(text.value, c.text)}</pre></section>
          <section><h3>The folder's</h3><pre tabIndex={0}>{differing(c.text, text.value)}</pre></section>
        </div>
      )}
      <p class="row">
        <button type="button" onClick={() => void settle("theirs")}>Take the folder's (undo brings mine back)</button>
        <button type="button" onClick={() => void settle("mine")}>Write mine over it</button>
      </p>
      <p class="row">
        <label>or keep mine as <input type="text" value={name.value} onInput={(e) => (name.value = e.currentTarget.value)} /></label>
        <button type="button" onClick={() => void settle(name.value)}>Save under this name</button>
      </p>
    </dialog>
  );
}

// differing lists the lines that the other text has not.
function differing(mine: string, other: string): string {
  const theirs = new Set(other.split("\n"));
  const list = mine.split("\n").flatMap((l, i) => (theirs.has(l) ? [] : [`${i + 1}: ${l}`]));
  return list.length ? list.slice(0, 40).join("\n") : "(no line of its own)";
}

function Work() {
  const s = step.value;
  const fileOpen = useSignal(false);
  if (s === "build") return <Build />;
  if (s === "measure") return <Measure />;
  if (s === "studies") return <Studies />;
  if (s === "compare") return <Compare />;
  return (
    <div class="work">
      <main class="panel" id="main" tabIndex={-1}>
        <Problems />
        {s === "need" && <Need />}
        {s === "magnet" && <MagnetStep />}
        {s === "yoke" && <YokeStep />}
        {s === "answer" && <Answer />}
        <details onToggle={(e) => (fileOpen.value = e.currentTarget.open)}>
          <summary>The design file</summary>
          {fileOpen.value && <FileText />}
        </details>
      </main>
      <div class="side">
        <SceneView />
        {s === "answer" && <Charts />}
      </div>
    </div>
  );
}

function Page() {
  useEffect(() => {
    const keys = (e: KeyboardEvent) => {
      const typing = e.target instanceof HTMLTextAreaElement;
      if (!(e.ctrlKey || e.metaKey) || typing || !file.value) return;
      const k = e.key.toLowerCase();
      if (k === "z" && !e.shiftKey) void undo();
      else if (k === "y" || (k === "z" && e.shiftKey)) void redo();
      else if (k === "s") void save();
      else return;
      e.preventDefault();
    };
    const back = () => document.visibilityState === "visible" && void follow();
    addEventListener("keydown", keys);
    addEventListener("focus", back);
    document.addEventListener("visibilitychange", back);
    const leaving = (e: BeforeUnloadEvent) => {
      if (saveState.value !== "saved") e.preventDefault();
    };
    addEventListener("beforeunload", leaving);
    return () => {
      removeEventListener("keydown", keys);
      removeEventListener("focus", back);
      document.removeEventListener("visibilitychange", back);
      removeEventListener("beforeunload", leaving);
    };
  }, []);
  return (
    <>
      <Head />
      {away.value && <p class="banner" role="alert">The bench's server does not answer. What you have stays in this page; start <code>polewright serve</code> again and it goes on.</p>}
      {saveFault.value && !away.value && !conflict.value && <p class="banner" role="alert">{saveFault.value} <button type="button" onClick={() => void save()}>Try again</button></p>}
      <p class="notice" role="status">{notice.value}</p>
      {file.value ? <><Live /><Work /></> : <StartPage />}
      <Conflict />
    </>
  );
}

effect(() => {
  document.title = file.value ? `${saveState.value === "saved" ? "" : "• "}${file.value.name} – polewright bench` : "polewright bench";
});

let hush: ReturnType<typeof setTimeout> | undefined;
effect(() => {
  if (!notice.value) return;
  clearTimeout(hush);
  hush = setTimeout(() => (notice.value = ""), 6000);
});

async function begin() {
  const host = document.getElementById("bench")!;
  try {
    [catalogue.value] = await Promise.all([ask<Schemas["Catalogue"]>("GET", "/api/catalogue"), refreshFolder()]);
  } catch (e) {
    render(<main class="begin"><h1>The bench cannot begin</h1><p role="alert">{words(e)}</p></main>, host);
    return;
  }
  render(<Page />, host);
  const name = decodeURIComponent(location.hash.slice(1));
  if (name.toLowerCase().endsWith(".toml")) {
    step.value = "answer";
    await open(name).catch((e: unknown) => (notice.value = words(e)));
  }
}
void begin();
