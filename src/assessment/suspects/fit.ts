/** The least value of a function of one positive number, sought over a range on a logarithmic axis: a scan, then golden sections. */
export function leastAlong(
  value: (x: number) => number,
  from: number,
  to: number,
  steps: number,
  rounds = 18,
): { readonly at: number; readonly value: number } {
  const [low, high] = [Math.log(from), Math.log(to)];
  const step = (high - low) / steps;
  let [best, least] = [low, Infinity];
  for (let i = 0; i <= steps; i++) {
    const now = value(Math.exp(low + i * step));
    if (now < least) [best, least] = [low + i * step, now];
  }
  const golden = (Math.sqrt(5) - 1) / 2;
  let [a, b] = [Math.max(low, best - step), Math.min(high, best + step)];
  let [x, y] = [b - golden * (b - a), a + golden * (b - a)];
  let [fx, fy] = [value(Math.exp(x)), value(Math.exp(y))];
  for (let round = 0; round < rounds; round++) {
    if (fx < fy) {
      [b, y, fy] = [y, x, fx];
      x = b - golden * (b - a);
      fx = value(Math.exp(x));
    } else {
      [a, x, fx] = [x, y, fy];
      y = a + golden * (b - a);
      fy = value(Math.exp(y));
    }
  }
  for (const [at, now] of [
    [x, fx],
    [y, fy],
  ] as const)
    if (now < least) [best, least] = [at, now];
  return { at: Math.exp(best), value: least };
}

/** Two positive numbers in turn, a few times over: enough for ohms and a ratio, which hardly bend each other. */
export function leastOverTwo(
  value: (x: number, y: number) => number,
  x: readonly [number, number],
  y: readonly [number, number],
): { readonly x: number; readonly y: number; readonly value: number } {
  let best = { x: x[0], y: 1, value: Infinity };
  for (let i = 0; i <= 8; i++) {
    const at = x[0] * (x[1] / x[0]) ** (i / 8);
    const found = leastAlong((other) => value(at, other), y[0], y[1], 12, 4);
    if (found.value < best.value) best = { x: at, y: found.at, value: found.value };
  }
  for (let round = 0; round < 4; round++) {
    const reach = 4 / 2 ** round;
    const alongX = leastAlong((at) => value(at, best.y), Math.max(x[0], best.x / reach), Math.min(x[1], best.x * reach), 4, 8);
    if (alongX.value < best.value) best = { x: alongX.at, y: best.y, value: alongX.value };
    const alongY = leastAlong((at) => value(best.x, at), Math.max(y[0], best.y / reach), Math.min(y[1], best.y * reach), 4, 8);
    if (alongY.value < best.value) best = { x: best.x, y: alongY.at, value: alongY.value };
  }
  return best;
}

/** Two numbers near those given, within their ranges: in turn along each, in shrinking steps. */
export function refined(
  value: (x: number, y: number) => number,
  [x0, y0]: readonly [number, number],
  ranges: readonly [readonly [number, number], readonly [number, number]],
): readonly [number, number] {
  let best = { x: x0, y: y0, value: value(x0, y0) };
  for (let round = 0; round < 3; round++) {
    const reach = 1 + 0.5 / 2 ** round;
    const within = (at: number, [from, to]: readonly [number, number]) => [Math.max(from, at / reach), Math.min(to, at * reach)] as const;
    const [fromX, toX] = within(best.x, ranges[0]);
    const alongX = leastAlong((x) => value(x, best.y), fromX, toX, 2, 6);
    if (alongX.value < best.value) best = { x: alongX.at, y: best.y, value: alongX.value };
    const [fromY, toY] = within(best.y, ranges[1]);
    const alongY = leastAlong((y) => value(best.x, y), fromY, toY, 2, 6);
    if (alongY.value < best.value) best = { x: best.x, y: alongY.at, value: alongY.value };
  }
  return [best.x, best.y];
}
