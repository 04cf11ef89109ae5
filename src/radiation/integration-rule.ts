import { rectangleEdge, rectangleSurface } from "./rectangle-rules";
import { discEdge, discSurface, ringRule } from "./round-rules";
import type { IntegrationRule } from "./rule-points";
import type { Source } from "./source";

/**
 * The rule for a source of given shape and a point in its own coordinates, all in m.
 *
 * @param source its shape and mounting
 * @param x towards its front
 * @param y to its own left
 * @param z up along it
 * @returns the rule, or nothing for a shape that needs no integration
 */
export function integrationRule({ shape, mounting }: Pick<Source, "shape" | "mounting">, x: number, y: number, z: number): IntegrationRule | undefined {
  const free = mounting === "free-edge";
  if (shape.kind === "ring") return ringRule(shape.radius, x, Math.hypot(y, z), free);
  if (shape.kind === "disc") {
    const off = Math.hypot(y, z);
    return free ? discSurface(shape.radius, shape.innerRadius, x, off) : discEdge(shape.radius, shape.innerRadius, Math.abs(x), off);
  }
  if (shape.kind !== "rectangle") return undefined;
  const { width, height, bendRadius } = shape;
  // A panel very narrow against its distance would lose digits as an integral around its edge, and needs few points across.
  const slender = width < 1e-3 * Math.hypot(x, y, z);
  return free || slender || bendRadius !== undefined ? rectangleSurface(width, height, bendRadius, x, y, z, free) : rectangleEdge(width, height, Math.abs(x), y, z);
}
