/**
 * The bytes that a packed text stands for. Each rule is three characters, a sign and the two that it stands for, which may be signs of
 * earlier rules; what is left is hexadecimal digits, two a byte. Needs nothing of the browser or of Node.
 */
export function unpack(rules: string, text: string): Uint8Array<ArrayBuffer> {
  /** By character code: the digits that it stands for. */
  const meaning: number[][] = [];
  for (let digit = 0; digit < 16; digit++) meaning["0123456789abcdef".charCodeAt(digit)] = [digit];
  for (let k = 0; k < rules.length; k += 3) meaning[rules.charCodeAt(k)] = [...meaning[rules.charCodeAt(k + 1)]!, ...meaning[rules.charCodeAt(k + 2)]!];
  let length = 0;
  for (let k = 0; k < text.length; k++) length += meaning[text.charCodeAt(k)]!.length;
  const bytes = new Uint8Array(length / 2);
  for (let k = 0, at = 0; k < text.length; k++) {
    const digits = meaning[text.charCodeAt(k)]!;
    for (let j = 0; j < digits.length; j++, at++) bytes[at >> 1] = (bytes[at >> 1]! << 4) | digits[j]!;
  }
  return bytes;
}
