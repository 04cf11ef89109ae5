import type { BranchTable } from "./branch-table";
import type { OutsideBand } from "../assessment/internal";

/** What is heard outside the judged band; any stated level is divided out of all pressures, a target's shape isn't. */
export interface OuterHeard {
  readonly outside: OutsideBand;
  /** ln of the target's shape, by place and row. */
  readonly shapes: readonly Float64Array[];
  /** As `Heard` has them, on the outer frequencies. */
  readonly perVolt: Float64Array;
  readonly constant: Float64Array;
  readonly beside: Float64Array | undefined;
  readonly source: { readonly re: Float64Array; readonly im: Float64Array } | undefined;
  readonly constantAdmittance: Float64Array;
  /** ln: how far above the target a level may lie. */
  readonly largest: number;
  /** ln: how much further, where the loss isn't of these levels. */
  readonly slack: number;
}

/** Rounding that the limit is widened by; the best is held to it by its own solution. */
const SLACK = 1e-9;

/** Whether a level outside the band lies too high with some states. */
export class HumpCheck {
  private readonly outer: OuterHeard;
  private readonly tables: readonly BranchTable[];
  private readonly fixed: readonly boolean[];
  private readonly channels: readonly { readonly g: number; readonly at: number }[];
  private readonly rowWidth: readonly number[];
  private readonly powers: Float64Array;

  constructor(outer: OuterHeard, tables: readonly BranchTable[], fixed: readonly boolean[]) {
    [this.outer, this.tables, this.fixed] = [outer, tables, fixed];
    const o = outer.outside.frequencies.length;
    this.channels = tables.flatMap(({ channels: own }, g) => own.map((_, c) => ({ g, at: c * o })));
    this.rowWidth = tables.map(({ channels: own }) => 2 * (own.length * o + (outer.source === undefined ? 0 : o)));
    this.powers = new Float64Array(o * outer.outside.places.length);
  }

  /** The highest level inside (ln) at each place and the target's free level (ln) given. */
  tooHigh(nodes: Int32Array, at: number, inside: Float64Array, free: number): boolean {
    const { tables, fixed, channels, rowWidth, powers } = this;
    const {
      outside: { frequencies, rows, places },
      shapes,
      perVolt,
      constant,
      beside,
      source,
      constantAdmittance,
      largest: limit,
      slack,
    } = this.outer;
    const [o, K] = [frequencies.length, places.length];
    const largest = limit + slack;
    for (let f = 0; f < o; f++) {
      let [br, bi] = [1, 0];
      if (source !== undefined) {
        let [yr, yi] = [constantAdmittance[2 * f]!, constantAdmittance[2 * f + 1]!];
        for (let g = 0; g < tables.length; g++) {
          const i = (-1 - nodes[at + g]!) * rowWidth[g]! + 2 * (tables[g]!.channels.length * o + f);
          yr += tables[g]!.outer[i]!;
          yi += tables[g]!.outer[i + 1]!;
        }
        br += source.re[f]! * yr - source.im[f]! * yi;
        bi += source.re[f]! * yi + source.im[f]! * yr;
      }
      const behind = br * br + bi * bi;
      for (let k = 0; k < K; k++) {
        const i = f * K + k;
        let [re, im] = [constant[2 * i]!, constant[2 * i + 1]!];
        if (beside !== undefined) {
          re += beside[2 * i]! * br - beside[2 * i + 1]! * bi;
          im += beside[2 * i + 1]! * br + beside[2 * i]! * bi;
        }
        for (let c = 0; c < channels.length; c++) {
          const { g, at: inside } = channels[c]!;
          const h = (-1 - nodes[at + g]!) * rowWidth[g]! + 2 * (inside + f);
          const [hr, hi] = [tables[g]!.outer[h]!, tables[g]!.outer[h + 1]!];
          const p = 2 * (i * channels.length + c);
          re += perVolt[p]! * hr - perVolt[p + 1]! * hi;
          im += perVolt[p]! * hi + perVolt[p + 1]! * hr;
        }
        powers[i] = (re * re + im * im) / behind;
      }
    }
    for (let k = 0; k < K; k++) {
      const allowed = Math.max(largest + (fixed[places[k]!]! ? 0 : free), inside[places[k]!]! + slack) + SLACK;
      for (let row = 0; row < rows.length; row++) {
        const { first, weights } = rows[row]!;
        let power = 0;
        for (let i = 0; i < weights.length; i++) power += weights[i]! * powers[(first + i) * K + k]!;
        if (0.5 * Math.log(power) - shapes[k]![row]! > allowed) return true;
      }
    }
    return false;
  }
}
