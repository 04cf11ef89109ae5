import type { PartOrCoupling } from "../parts";
import { expandPart, isCoupling, isDriver } from "../parts/internal";

/** Hz at which it is asked whether anything is there: what is nothing at both is nothing between. */
const ASKED = [0, 1000] as const;

/** Whether a part is a link of 0 Ω: nothing that is bought or gets hot. */
export function isWire(part: PartOrCoupling): boolean {
  if (isCoupling(part) || isDriver(part)) return false;
  const { terminals, branches, transformers = [] } = expandPart(part);
  if (terminals !== 2 || branches.length !== 1 || transformers.length > 0) return false;
  const [{ law, values }] = branches as [(typeof branches)[number]];
  if (values.length === 0) return false;
  return ASKED.every((frequency) => {
    const out = new Float64Array(4);
    law.ratio(values, 0, frequency, out);
    return out[2] === 0 && out[3] === 0;
  });
}
