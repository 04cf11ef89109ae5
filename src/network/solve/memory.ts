import { DividingNetworkError } from "../../errors";

/** Gets memory of so many bytes, or says in words that there isn't so much. */
export function memoryFor<T>(bytes: number, get: () => T, most = Infinity): T {
  try {
    if (bytes <= most) return get();
  } catch {
    // Said below: engines refuse with a RangeError or an error of their own.
  }
  throw new DividingNetworkError(
    "out-of-memory",
    `network: this takes ${Math.ceil(bytes / 1e6)} MB at once, which can't be had`,
    "Ask for fewer frequencies or fewer outputs at once: a long grid can be solved in pieces, one after another",
  );
}
