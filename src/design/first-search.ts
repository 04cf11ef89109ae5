import { stateFor, type BranchTable } from "./branch-table";
import type { Choice } from "./choices";
import type { LossBound } from "./heard";
import { descend, drawnStarts } from "./local-search";
import type { Incumbent } from "./pair-search";

/** How many starts, where they are beyond the limits, are led back first. */
const LED_STARTS = 12;
/** ln²: more than any loss; what is beyond the limits counts this, and how far it is beyond them. */
const BEYOND = 1e6;

/** A good network at once: single changes from several starts, each end of which is offered. */
export class FirstSearch {
  private readonly tables: readonly BranchTable[];
  private readonly choices: readonly Choice[];
  private readonly bound: LossBound;
  private readonly incumbent: Incumbent;
  private readonly nodes: Int32Array;
  private readonly states: Int32Array;
  private looked = 0;
  private led = false;

  constructor(tables: readonly BranchTable[], choices: readonly Choice[], bound: LossBound, incumbent: Incumbent) {
    [this.tables, this.choices, this.bound, this.incumbent] = [tables, choices, bound, incumbent];
    [this.nodes, this.states] = [new Int32Array(tables.length), new Int32Array(tables.length)];
  }

  /** From so many starts; how many networks were looked at. */
  from(starts: number): number {
    const counts = this.choices.map(({ options }) => options.length);
    const value = (codes: Int32Array, enough: number) => this.value(codes, enough);
    const take = (codes: Int32Array, loss: number) => this.take(codes, loss);
    const drawn = drawnStarts(counts, starts);
    this.led = false;
    descend(counts, value, drawn, take);
    this.led = true;
    descend(counts, value, drawn.slice(0, LED_STARTS), take);
    return this.looked;
  }

  private value(codes: Int32Array, enough: number): number {
    const { tables, choices, bound, nodes } = this;
    for (let g = 0; g < tables.length; g++) {
      const state = stateFor(tables[g]!, choices, codes);
      if (state < 0) return Infinity;
      nodes[g] = -1 - state;
    }
    this.looked++;
    // The way back to the limits is sought first.
    const far = this.led && enough > BEYOND ? bound.beyond(nodes, 0, enough - BEYOND) : 0;
    return far > 0 ? BEYOND + far : bound.exact(nodes, 0, enough);
  }

  private take(codes: Int32Array, loss: number): void {
    const { tables, choices, states, incumbent } = this;
    if (!(loss < incumbent.loss && loss < BEYOND)) return;
    tables.forEach((table, g) => (states[g] = stateFor(table, choices, codes)));
    if (incumbent.offer(states, loss)) incumbent.loss = loss;
  }
}
