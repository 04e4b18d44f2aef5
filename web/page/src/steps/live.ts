import { computed, effect } from "@preact/signals";
import { asked, job, now, text } from "../bench";

// live is a question that is asked anew whenever the field is another one.
export function live<Answer>(path: string, body: () => object | null) {
  const j = job<Answer>();
  const key = computed(() => {
    const n = now.value, b = body();
    return n && b ? JSON.stringify([path, text.value, n.accuracy, n.field_only, b]) : "";
  });
  let done = "";
  return {
    ...j,
    follow() {
      return effect(() => {
        const k = key.value;
        if (!k || k === done) return;
        done = k;
        const n = now.peek()!;
        void j.run(path, { ...asked(), accuracy: n.accuracy, field_only: n.field_only, ...body() });
      });
    },
  };
}
