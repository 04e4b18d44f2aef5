import { asked, following, job, now, text } from "../bench";

// live is a question that is asked anew whenever the field is another one.
export function live<Answer>(path: string, body: () => object | null) {
  const j = job<Answer>();
  const key = () => {
    const n = now.value, b = body();
    return n && b ? JSON.stringify([path, text.value, n.accuracy, n.field_only, b]) : "";
  };
  return {
    ...j,
    follow: following(j, key, () => void j.run(path, { ...asked(), accuracy: now.peek()!.accuracy, field_only: now.peek()!.field_only, ...body() })),
  };
}
