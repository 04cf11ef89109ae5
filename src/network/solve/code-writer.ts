/** Operations beside those of the machine, replaced when the program is laid out in memory; d is a slot. */
export const PSEUDO = {
  /** d ← admittance of branch a */
  fill: 100,
  /** d ← d + admittance of branch a */
  fillAdd: 101,
  /** d ← table a of the coupled coils */
  coils: 102,
  /** d ← a times slope table b */
  timesSlope: 103,
  /** d ← d + a times slope table b */
  timesSlopeAdd: 104,
} as const;

/** A program that is being written: its operations, and the slots that they use. */
export interface CodeWriter {
  readonly code: number[];
  emit(operation: number, d: number, a?: number, b?: number): void;
  take(): number;
  release(...slots: readonly number[]): void;
  /** Does some work and gives back the slots that it took and still holds: what it needs later it has put out by then. */
  within(work: () => void): void;
  /** How many slots there are. */
  slots(): number;
}

/** An empty program. */
export function codeWriter(): CodeWriter {
  const code: number[] = [];
  const free: number[] = [];
  let slots = 0;
  const held = new Set<number>();
  const take = () => {
    const slot = free.pop() ?? slots++;
    held.add(slot);
    return slot;
  };
  const release = (...given: readonly number[]) => {
    for (const slot of given) held.delete(slot);
    free.push(...given);
  };
  return {
    code,
    emit: (operation, d, a = 0, b = 0) => void code.push(operation, d, a, b),
    take,
    release,
    within(work) {
      const before = new Set(held);
      work();
      release(...[...held].filter((slot) => !before.has(slot)));
    },
    slots: () => slots,
  };
}
