/** s: three samples at 48 kHz, or 21 mm of path: by so much the whole may arrive earlier or later than the drivers' measurements say (choice, no source). */
export const LARGEST_DELAY = 62.5e-6;

/** How many steps there are to either side, and how many of them the first look takes at once. */
const [STEPS, STRIDE] = [25, 10];

/** Products of a predicted and a measured pressure, p·q*, on the grid from `from` to `to`. */
export interface CrossProducts {
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly from: number;
  readonly to: number;
  /** Every how manieth point counts. */
  readonly stride: number;
}

/** One sign for all places and one delay for each: what the amplifier's polarity and a microphone a few millimetres off do to phase. */
export interface SignAndDelays {
  readonly sign: 1 | -1;
  /** Steps of the delay, place by place. */
  readonly steps: readonly number[];
}

/** Turns by delays within the bound, on a fixed grid; rounded to 2.5 µs, less than a millimetre. */
export function signAndDelayFit(frequencies: Float64Array) {
  const turns = Array.from({ length: 2 * STEPS + 1 }, (_, k) => {
    const delay = ((k - STEPS) / STEPS) * LARGEST_DELAY;
    return {
      cos: frequencies.map((f) => Math.cos(2 * Math.PI * f * delay)),
      sin: frequencies.map((f) => Math.sin(2 * Math.PI * f * delay)),
    };
  });
  // Re Σ c·e^(jωτ): largest where the phases agree.
  const agreement = ({ re, im, from, to, stride }: CrossProducts, step: number): number => {
    const { cos, sin } = turns[step + STEPS]!;
    let sum = 0;
    for (let p = from; p < to; p += stride) sum += re[p]! * cos[p]! - im[p]! * sin[p]!;
    return sum;
  };
  return {
    /** cos and sin of what a step turns each frequency by. */
    turn: (step: number) => turns[step + STEPS]!,
    fit: (places: readonly CrossProducts[]): SignAndDelays => {
      let [same, turned] = [0, 0];
      const starts = places.map((place) => {
        let [most, least, atMost, atLeast] = [-Infinity, Infinity, 0, 0];
        for (let step = -2 * STRIDE; step <= 2 * STRIDE; step += STRIDE) {
          const now = agreement(place, step);
          if (now > most) [most, atMost] = [now, step];
          if (now < least) [least, atLeast] = [now, step];
        }
        same += most;
        turned -= least;
        return { same: { step: atMost, value: most }, turned: { step: atLeast, value: -least } };
      });
      const sign = same >= turned ? 1 : -1;
      return {
        sign,
        steps: places.map((place, index) => {
          let { step, value } = starts[index]![sign > 0 ? "same" : "turned"];
          for (const by of [5, -5, 2, -2, 1, -1]) {
            const other = step + by;
            if (Math.abs(other) > STEPS) continue;
            const now = sign * agreement(place, other);
            if (now > value) [step, value] = [other, now];
          }
          return step;
        }),
      };
    },
  };
}
