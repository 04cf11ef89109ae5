/**
 * The bytes that a packed text stands for: a byte is two hexadecimal digits, and some runs of bytes have a sign of their own. The rules
 * stand between spaces, each a sign and its run, in which the signs of earlier rules may stand. Needs nothing of the browser or of Node.
 */
export function unpack(rules: string, text: string): Uint8Array<ArrayBuffer> {
  /** By character code. */
  const runs: (readonly number[] | undefined)[] = Array.from({ length: 128 }, () => undefined);
  const digit = (code: number): number => (code < 58 ? code - 48 : code - 87);
  const read = (packed: string, from: number): readonly number[] => {
    const bytes: number[] = [];
    for (let k = from; k < packed.length; k++) {
      const code = packed.charCodeAt(k);
      const run = runs[code];
      if (run === undefined) bytes.push(16 * digit(code) + digit(packed.charCodeAt(++k)));
      else for (let j = 0; j < run.length; j++) bytes.push(run[j]!);
    }
    return bytes;
  };
  for (const rule of rules.split(" ")) runs[rule.charCodeAt(0)] = read(rule, 1);
  return new Uint8Array(read(text, 0));
}
