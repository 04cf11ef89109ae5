import type { FamilyOptions } from "../alignments";
import { familyPrototype } from "../alignments/internal";
import { DividingNetworkError } from "../errors";
import { saidBy } from "../errors/internal";

/** A family's prototype; what can't be is refused by the name of the argument that asks for it. */
export function statedPrototype(caller: string, argument: string, options: FamilyOptions): ReturnType<typeof familyPrototype> {
  try {
    return familyPrototype(caller, options);
  } catch (error) {
    const { message, hint } = saidBy(error);
    throw new DividingNetworkError("invalid-argument", `${caller}: ${argument}: ${message}`, hint);
  }
}
