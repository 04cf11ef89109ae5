import { checkText } from "./markup";

/** A picture that shows itself in a notebook. */
export interface Displayable {
  readonly svg: string;
}

/**
 * Wraps an SVG picture so that a notebook displays it: the object answers the notebook's display protocol
 * (`Symbol.for("Jupyter.display")`) through a key that is not enumerable, so that it prints and serialises as
 * `{ svg }`.
 *
 * @param svg SVG text, as the plots return it
 * @returns a frozen object with the text under `svg`
 * @throws DividingNetworkError `invalid-argument` when it is not SVG text
 * @example
 * ```ts
 * import { displayable } from "dividing-network/report";
 *
 * Object.keys(displayable("<svg xmlns='http://www.w3.org/2000/svg'/>")); // ["svg"]
 * ```
 */
export function displayable(svg: string): Displayable {
  checkText("displayable", "svg", svg);
  const picture = { svg };
  Object.defineProperty(picture, Symbol.for("Jupyter.display"), { value: () => ({ "image/svg+xml": svg }), enumerable: false });
  return Object.freeze(picture);
}
