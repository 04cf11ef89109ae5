// The script that every worker runs, in Node as in a browser. It is built into one file with all that it needs (tsup.config.ts), so that nothing has to be resolved where it is started.
import { worker } from "workerpool";
import { pieceLooker, redesignPlan, valuesPlan, type Looked, type LookedPiece, type RedesignPlan, type Sketch } from "../design/internal";
import { lawOf, type Order, type ValuesOrder } from "./order";
import { answerOf, type WorkerAnswer } from "./worker-answer";

/** A worker serves one redesign: its branches stay solved from one topology to the next. */
let plan: RedesignPlan | undefined;
/** Or one search of values. */
let lookAt: ReturnType<typeof pieceLooker> | undefined;

worker({
  look: (order: Order, sketch: Sketch, below: number): Promise<WorkerAnswer<Looked>> =>
    answerOf(() => {
      const law = lawOf(order);
      plan ??= redesignPlan(order.caller, order.loudspeaker, { ...order.options, ...(law === undefined ? {} : { coilResistance: law }) });
      return plan.look(sketch, below);
    }),
  choose: ({ caller, loudspeaker, options }: ValuesOrder, piece: number, below: number): Promise<WorkerAnswer<LookedPiece>> =>
    answerOf(() => {
      lookAt ??= pieceLooker(valuesPlan(caller, loudspeaker, options));
      return lookAt(piece, below);
    }),
});
