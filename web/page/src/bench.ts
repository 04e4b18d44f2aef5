// The state of the page: one text, and what is known of it. Every change goes to the server, which answers with the new text.
import { batch, computed, effect, signal, untracked } from "@preact/signals";
import { ask, away, Refused, stopped, stream, words, type Problem, type Progress, type Schemas } from "./ask";

export type Step = "need" | "magnet" | "yoke" | "answer" | "build" | "measure" | "studies" | "compare";

export const catalogue = signal<Schemas["Catalogue"] | null>(null);
export const folder = signal<Schemas["Folder"] | null>(null);
export const file = signal<{ name: string; version: string; saved: string } | null>(null);
export const text = signal("");
export const look = signal<Schemas["Look"] | null>(null);
export const step = signal<Step>("need");
export const picked = signal<string | null>(null); // name of a part
export const hidden = signal<ReadonlySet<string>>(new Set());
export const notice = signal(""); // said once, to screen readers too
export const saveState = signal<"saved" | "unsaved" | "saving" | "failed">("saved");
export const saveFault = signal("");
export const conflict = signal<Schemas["File"] | null>(null);

const past = signal<string[]>([]);
const future = signal<string[]>([]);
export const canUndo = computed(() => past.value.length > 0);
export const canRedo = computed(() => future.value.length > 0);
const mostSteps = 200;

export type Result = Schemas["Result"];

// A Solve is an answer, for which text it is, and how the next one comes on.
export interface Solve {
  result: Result | null;
  of: string; // the text that result belongs to
  running: Progress | null;
  since: number;
  fault: string;
}
const idle: Solve = { result: null, of: "", running: null, since: 0, fault: "" };
export const draft = signal<Solve>(idle);
export const whole = signal<Solve>(idle);
export const sound = computed(() => look.value !== null && look.value.problems.length === 0 && !look.value.no_parts);

// now is the best field that belongs to the present text, with the effort by which the server knows it.
export const now = computed(() => {
  if (whole.value.result && whole.value.of === text.value) return { result: whole.value.result, accuracy: "standard", field_only: false };
  if (draft.value.result && draft.value.of === text.value) return { result: draft.value.result, accuracy: "draft", field_only: true };
  return null;
});
// last is the best that there is, fresh or not.
export const last = computed(() => now.value?.result ?? whole.value.result ?? draft.value.result);
export const fresh = computed(() => now.value !== null);

export const asked = () => ({ file: file.value?.name ?? "", text: text.value });

let solving: AbortController | null = null;
let pause: ReturnType<typeof setTimeout> | undefined;

async function one(into: typeof draft, effort: { accuracy: string; field_only: boolean }, abort: AbortSignal) {
  const of = text.value;
  into.value = { ...into.value, running: { what: "begins", done: 0 }, since: performance.now(), fault: "" };
  try {
    const result = await stream<Result>("/api/solve", { ...asked(), ...effort }, abort, (name, data) => {
      if (name === "progress" && !abort.aborted) into.value = { ...into.value, running: data as Progress };
    });
    if (!abort.aborted) into.value = { result, of, running: null, since: 0, fault: "" };
  } catch (e) {
    if (abort.aborted || stopped(e)) return;
    into.value = { ...into.value, running: null, fault: words(e) };
  }
}

// solve follows a change: a draft of the field at once, the whole answer when the hand rests.
export function solve(restMs = 700) {
  cancel();
  if (!sound.value) return;
  const abort = (solving = new AbortController());
  void one(draft, { accuracy: "draft", field_only: true }, abort.signal).then(() => {
    if (abort.signal.aborted || draft.value.fault) return;
    pause = setTimeout(() => void one(whole, { accuracy: "standard", field_only: false }, abort.signal), restMs);
  });
}

export function cancel() {
  clearTimeout(pause);
  solving?.abort();
  for (const s of [draft, whole]) if (s.value.running) s.value = { ...s.value, running: null };
}

let looking: AbortController | null = null;

// say takes a text as the present one.
function say(l: Schemas["Look"], undoable: boolean) {
  if (l.text === text.value && look.value) {
    look.value = l;
    return;
  }
  if (undoable && look.value) {
    past.value = [...past.value.slice(-mostSteps), text.value];
    future.value = [];
  }
  batch(() => { // the solver is asked first: what shows the parts follows while it works
    text.value = l.text;
    look.value = l;
    if (!dragging) solve();
    else if (!draft.value.running) solveDragged();
    if (picked.value && !l.parts.some((p) => p.name === picked.value) && l.parts.length) picked.value = null;
  });
  keep();
}

export const changing = signal(false); // whether a change is being looked at

// present asks what a text says, after changes, and takes it as the present one. What works on the text before stops at once: it would be in the way.
async function present(question: Schemas["Looking"], undoable: boolean) {
  looking?.abort();
  const abort = (looking = new AbortController());
  changing.value = true;
  cancel();
  try {
    const l = await ask<Schemas["Look"]>("POST", "/api/look", question, abort.signal);
    if (l.refused) throw new Refused(422, l.refused);
    say(l, undoable);
  } finally {
    if (looking === abort) {
      changing.value = false;
      if (!away.value && !draft.value.running && now.value?.accuracy !== "standard") solve(0); // it is the same text still
    }
  }
}

// change sets parameters of the design. It throws what the server refuses.
export const change = (...changes: Schemas["Change"][]) => present({ ...asked(), changes }, true);

let dragging = false;

// drag is change while a hand moves something: undo takes the whole way back, and a draft that has begun is let to its end, or there would never
// be one. Until drop, nothing finer is solved.
export async function drag(first: boolean, ...changes: Schemas["Change"][]) {
  dragging = true;
  const l = await ask<Schemas["Look"]>("POST", "/api/look", { ...asked(), changes });
  if (l.refused) throw new Refused(422, l.refused);
  say(l, first);
}

export function drop() {
  dragging = false;
  if (draft.value.of !== text.value) solve();
  else if (whole.value.of !== text.value) solve(0);
}

function solveDragged() {
  if (!sound.value) return;
  cancel();
  const abort = (solving = new AbortController());
  void one(draft, { accuracy: "draft", field_only: true }, abort.signal).then(() => {
    if (dragging && !abort.signal.aborted && !draft.value.fault && draft.value.of !== text.value) solveDragged();
  });
}

// rewrite takes a whole new text.
export const rewrite = (to: string, undoable = true) => present({ ...asked(), text: to }, undoable);

async function goTo(from: typeof past, to: typeof past, what: string) {
  const t = from.value.at(-1);
  if (t === undefined) return;
  const here = text.value;
  await rewrite(t, false);
  from.value = from.value.slice(0, -1);
  to.value = [...to.value, here];
  notice.value = what;
}
// One step after the other: a second one would stop the first on its way, and count for nothing.
let steps: Promise<void> = Promise.resolve();
const after = (step: () => Promise<void>) => (steps = steps.then(step).catch(() => {}));
export const undo = () => after(() => goTo(past, future, "undone"));
export const redo = () => after(() => goTo(future, past, "done again"));

// Autosave: half a second after the last change, whole, and only over the version that this page has seen.
let keeping: ReturnType<typeof setTimeout> | undefined;
const shelf = (name: string) => `unsaved:${name}`;
function keep() {
  const f = file.value;
  if (!f || text.value === f.saved) {
    if (f) saveState.value = "saved";
    return;
  }
  saveState.value = "unsaved";
  try {
    localStorage.setItem(shelf(f.name), JSON.stringify({ text: text.value, base: f.version }));
  } catch {
    // the browser keeps nothing: the folder does
  }
  clearTimeout(keeping);
  keeping = setTimeout(() => void save(), 500);
}

let underWay = false; // one save at a time, or a page would be in its own way

export async function save(base?: string) {
  const f = file.value;
  if (!f || conflict.value || underWay) return; // the save under way looks again when it ends
  underWay = true;
  try {
    await saveOnce(f, base);
  } finally {
    underWay = false;
  }
  if (file.value && text.value !== file.value.saved && saveState.value !== "failed") keep();
}

async function saveOnce(f: { name: string; version: string }, base?: string) {
  const t = text.value;
  saveState.value = "saving";
  try {
    const { version } = await ask<Schemas["Saved"]>("PUT", `/api/files/${encodeURIComponent(f.name)}`, { text: t, base: base ?? f.version });
    if (file.value?.name !== f.name) return;
    file.value = { name: f.name, version, saved: t };
    localStorage.removeItem(shelf(f.name));
    saveFault.value = "";
    saveState.value = text.value === t ? "saved" : "unsaved";
  } catch (e) {
    saveState.value = "failed";
    saveFault.value = words(e);
    if (e instanceof Refused && e.status === 409 && e.file) conflict.value = e.file;
  }
}

// settle ends a conflict: by keeping this page's text, or the folder's, or this page's under another name.
export async function settle(how: "mine" | "theirs" | string) {
  const theirs = conflict.value;
  if (!theirs || !file.value) return;
  conflict.value = null;
  if (how === "mine") {
    file.value = { ...file.value, version: theirs.version };
    await save();
  } else if (how === "theirs") {
    file.value = { name: theirs.name, version: theirs.version, saved: theirs.text };
    await rewrite(theirs.text);
  } else {
    file.value = { name: how, version: "", saved: "" };
    location.hash = encodeURIComponent(how);
    await save("");
  }
}

export async function refreshFolder() {
  folder.value = await ask<Schemas["Folder"]>("GET", "/api/files");
}

function begin(name: string, version: string, saved: string) {
  cancel();
  past.value = [];
  future.value = [];
  look.value = null;
  text.value = "";
  draft.value = idle;
  whole.value = idle;
  picked.value = null;
  hidden.value = new Set();
  conflict.value = null;
  saveFault.value = "";
  saveState.value = "saved";
  file.value = { name, version, saved };
  history.replaceState(null, "", `#${encodeURIComponent(name)}`);
}

export async function open(name: string) {
  const f = await ask<Schemas["File"]>("GET", `/api/files/${encodeURIComponent(name)}`);
  begin(f.name, f.version, f.text);
  await rewrite(f.text, false);
  const left = localStorage.getItem(shelf(name));
  if (!left) return;
  // What a page could not save before it went: offered only where the file is still the one that it was made from.
  const was = JSON.parse(left) as { text: string; base: string };
  if (was.base === f.version && was.text !== f.text) {
    await rewrite(was.text);
    notice.value = "Changes that were not saved last time are back; undo takes them away.";
  } else localStorage.removeItem(shelf(name));
}

export async function create(name: string, t: string) {
  const { version } = await ask<Schemas["Saved"]>("PUT", `/api/files/${encodeURIComponent(name)}`, { text: t, base: "" });
  begin(name, version, t);
  await rewrite(t, false);
}

export async function close() {
  cancel();
  if (file.value && text.value !== file.value.saved) {
    await save();
    if (conflict.value) return;
    if (text.value !== file.value.saved) notice.value = "Not saved: this browser keeps the changes until the file is opened again.";
  }
  file.value = null;
  look.value = null;
  history.replaceState(null, "", location.pathname);
  void refreshFolder();
}

// Another tab or an editor may have changed the file meanwhile: a page without changes of its own follows, one with changes asks.
export async function follow() {
  const f = file.value;
  if (!f || away.value || conflict.value || saveState.value === "saving") return;
  try {
    const there = await ask<Schemas["File"]>("GET", `/api/files/${encodeURIComponent(f.name)}`);
    if (there.version === file.value?.version || file.value?.name !== f.name) return;
    if (text.value === f.saved) {
      file.value = { name: f.name, version: there.version, saved: there.text };
      await rewrite(there.text);
      notice.value = `${f.name} was changed elsewhere; this is the new text.`;
    } else conflict.value = there;
  } catch {
    // the next save says what is wrong
  }
}

// When the server is back, what could not be done is done.
let wasAway = false;
effect(() => {
  if (away.value) {
    wasAway = true;
    setTimeout(async () => {
      while (away.value) {
        await ask("GET", "/api/files").catch(() => new Promise((r) => setTimeout(r, 2000)));
      }
    }, 1500);
  } else if (wasAway) {
    wasAway = false;
    if (file.value && text.value !== file.value.saved) void save();
    if (sound.value && !now.value) solve();
  }
});

export const problems = computed<Problem[]>(() => look.value?.problems ?? []);

// A Job is a computation that the builder starts.
export function job<Answer>() {
  const state = signal<{ answer: Answer | null; of: string; running: Progress | null; fault: string }>({ answer: null, of: "", running: null, fault: "" });
  let abort: AbortController | null = null;
  return {
    state,
    async run(path: string, body: object, heard?: (name: string, data: unknown) => void) {
      abort?.abort();
      const mine = (abort = new AbortController());
      const of = text.value;
      state.value = { ...state.value, running: { what: "begins", done: 0 }, fault: "" };
      try {
        const answer = await stream<Answer>(path, body, mine.signal, (name, data) => {
          if (mine.signal.aborted) return;
          if (name === "progress") state.value = { ...state.value, running: data as Progress };
          else heard?.(name, data);
        });
        if (!mine.signal.aborted) state.value = { answer, of, running: null, fault: "" };
        return mine.signal.aborted ? null : answer;
      } catch (e) {
        if (!mine.signal.aborted) state.value = { ...state.value, running: null, fault: words(e) };
        return null;
      }
    },
    cancel() {
      abort?.abort();
      state.value = { ...state.value, running: null };
    },
  };
}

// following runs a job whenever its key is another one, from when it is called. Where there is no key, as when the field is one of an earlier
// design, or the design is about to be another one, it stops what runs: the cores are the solver's then.
export function following<Answer>(work: ReturnType<typeof job<Answer>>, key: () => string, run: () => unknown) {
  let last = "";
  return () =>
    effect(() => {
      const k = changing.value ? "" : key();
      if (k === last) return;
      if (k) untracked(run);
      else if (work.state.peek().running) work.cancel();
      else return; // its answer stands, should the key come back
      last = k;
    });
}
