import { DividingNetworkError } from "dividing-network/errors";

/** What is said of a refusal; `"taken"` where there is none. */
export function refusalText(run: () => unknown): string {
  try {
    run();
  } catch (error) {
    if (error instanceof DividingNetworkError) return error.message;
    throw error;
  }
  return "taken";
}
