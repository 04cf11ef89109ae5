import { DividingNetworkError } from "../errors";
import { checkOptions } from "../errors/internal";
import type { Length } from "../quantity";
import { inSi } from "../quantity/internal";
import { checkSource, type Source } from "./source";

/**
 * The dipole of a source: its front minus its rear, half the stated path before and behind its position along its own axis. Far away on the
 * axis the level against the front alone is $2\sin(kD/2)$, and off the axis $2\sin(\frac{kD}{2}\cos\theta)$ times the source's own
 * directivity.
 *
 * @param source any source but a measured one, of mounting `"simple"`
 * @param options path D in m from front to rear (around the baffle, say)
 * @returns a source, plain data; lengths in m
 * @throws DividingNetworkError when the source is measured, a dipole already or not mounted `"simple"`, or the path is not above 0
 * @example
 * ```ts
 * import { dipoleSource, pointSource, pressureAt } from "dividing-network/radiation";
 *
 * const dipole = dipoleSource(pointSource(), { path: "0.3 m" });
 * const far = pressureAt([dipole], [100], { points: [[1e4, 0, 0]], air: { speedOfSound: 343 } });
 * 1e4 * Math.hypot(far.re[0]!, far.im[0]!); // 0.542661
 * ```
 */
export function dipoleSource(source: Source, options: { readonly path: Length }): Source {
  const { shape, mounting, dipolePath } = checkSource("dipoleSource", "source", source);
  const dipolePathGiven = inSi("dipoleSource", "path", checkOptions("dipoleSource", options, ["path"]).path, "m", { above: 0 });
  const wrong = shape.kind === "measured" ? "measured" : dipolePath > 0 ? "a dipole" : mounting !== "simple" ? `mounted "${mounting}"` : "";
  if (wrong !== "") {
    throw new DividingNetworkError(
      "invalid-argument",
      `dipoleSource: "source" must be a source whose elements sound in all directions, got one that is ${wrong}`,
      'Give a piston the option mounting: "simple"',
    );
  }
  return Object.freeze({ ...source, dipolePath: dipolePathGiven });
}
