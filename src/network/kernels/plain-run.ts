import { BLOCK, HALF_BYTES } from "./block";
import type { Frame, Run } from "./frame";
import { PLAIN_KERNELS } from "./generated/plain";

/** Runs programs on a memory by the plain kernels, one loop for each operation. */
export function plainRun(memory: Float64Array, integers: Int32Array): Run {
  const frame: Frame = { at: 0, stride: 0, growth: 0, omega: 0 };
  return (code, end, size, at, stride, growth, omega) => {
    frame.stride = stride >> 3;
    frame.omega = omega >> 3;
    for (let done = 0; done < size; done += HALF_BYTES) {
      const points = Math.min(BLOCK, (size - done) >> 3);
      frame.at = (at + done) >> 3;
      frame.growth = (growth + done) >> 3;
      for (let pc = code >> 2; pc < end >> 2; pc += 4)
        PLAIN_KERNELS[integers[pc]!]!(memory, points, frame, integers[pc + 1]! >> 3, integers[pc + 2]! >> 3, integers[pc + 3]! >> 3);
    }
  };
}
