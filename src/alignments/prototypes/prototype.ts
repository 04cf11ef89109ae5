import { checkNumber, shown } from "../../errors/internal";
import type { TransferFunction } from "../../response";
import { prototypeViews } from "../views";
import type { Family, Prototype } from "./prototype-data";

/** The highest order that any family is made for. */
export const highestOrder = 20;

/** Checks an order: a whole number from 1 to `highestOrder`. */
export function checkOrder(caller: string, order: unknown): number {
  return checkNumber(caller, "order", order, { integer: true, min: 1, max: highestOrder });
}

/** A pole, or a pole and its mirror image, which is exact by construction. */
export function conjugatePair(re: number, im: number): { readonly re: number; readonly im: number }[] {
  if (im === 0) return [Object.freeze({ re, im: 0 })];
  return [Object.freeze({ re, im: Math.abs(im) }), Object.freeze({ re, im: -Math.abs(im) })];
}

/** Freezes a prototype; `level` is its value at zero frequency. */
export function makePrototype(family: Family, corner: string, poles: TransferFunction["poles"], level = 1): Prototype {
  const prototype: Prototype = {
    family,
    order: poles.length,
    corner,
    zeros: Object.freeze([]),
    poles: Object.freeze([...poles]),
    gain: level * poleProduct(poles),
  };
  return Object.freeze(shown(prototype, prototypeViews));
}

/** ∏(−p), which is real and positive when all poles lie in the left half-plane. */
export function poleProduct(poles: TransferFunction["poles"]): number {
  return poles.reduce((product, { re, im }) => (im < 0 ? product : product * (im === 0 ? -re : re * re + im * im)), 1);
}
