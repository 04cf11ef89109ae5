import { DividingNetworkError, type Issue } from "../errors";

/** What comes back from a worker: an answer, or an error of the family in its parts, since a class doesn't survive the way. */
export type WorkerAnswer<Looked> =
  | { readonly looked: Looked }
  | { readonly refused: { readonly code: string; readonly message: string; readonly hint: string; readonly issues: readonly Issue[] } };

/** The answer of a piece of work, as it is sent. What isn't of the family is thrown on. */
export async function answerOf<Looked>(work: () => Promise<Looked>): Promise<WorkerAnswer<Looked>> {
  try {
    return { looked: await work() };
  } catch (error) {
    if (!(error instanceof DividingNetworkError)) throw error;
    const { code, hint, issues } = error;
    const message = hint === "" ? error.message : error.message.slice(0, -`. ${hint}`.length);
    return { refused: { code, message, hint, issues } };
  }
}

/** What was sent, as if it had happened here. */
export function received<Looked>(answer: WorkerAnswer<Looked>): Looked {
  if ("looked" in answer) return answer.looked;
  const { code, message, hint, issues } = answer.refused;
  throw new DividingNetworkError(code, message, hint, issues);
}
