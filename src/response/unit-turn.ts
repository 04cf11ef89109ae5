/** Cosine and sine of an angle given in turns. */
export function unitTurn(turns: number): readonly [cos: number, sin: number] {
  const angle = 2 * Math.PI * (turns - Math.round(turns));
  return [Math.cos(angle), Math.sin(angle)];
}
