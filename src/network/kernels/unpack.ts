/**
 * The bytes, so many, that a packed text stands for: a byte is two hexadecimal digits, and some runs of bytes have a sign of their own.
 * The rules stand between spaces, each a sign and its run, in which the signs of earlier rules may stand. Needs nothing of the browser
 * or of Node.
 */
export function unpack(length: number, rules: string, text: string): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(length);
  /** By character code. */
  const runs: (Uint8Array | undefined)[] = Array.from({ length: 128 }, () => undefined);
  const digit = (code: number): number => (code < 58 ? code - 48 : code - 87);
  /** Writes what a text stands for from the beginning of `bytes`, and returns the end. */
  const write = (packed: string, from: number): number => {
    let at = 0;
    for (let k = from; k < packed.length; k++) {
      const code = packed.charCodeAt(k);
      const run = runs[code];
      if (run === undefined) bytes[at++] = 16 * digit(code) + digit(packed.charCodeAt(++k));
      else {
        bytes.set(run, at);
        at += run.length;
      }
    }
    return at;
  };
  for (const rule of rules.split(" ").filter((each) => each !== "")) {
    const end = write(rule, 1);
    runs[rule.charCodeAt(0)] = bytes.slice(0, end);
  }
  write(text, 0);
  return bytes;
}
