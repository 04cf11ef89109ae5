import { rectangleEdge, rectangleSurface } from "./rectangle-rules";
import { discEdge, discSurface, ringRule } from "./round-rules";
import type { IntegrationRule } from "./rule-points";
import type { Source, SourceShape } from "./source";

/**
 * The rule for a source of given shape and a point in its own coordinates, all in m.
 *
 * @param source its shape and mounting
 * @param x towards its front
 * @param y to its own left
 * @param z up along it
 * @returns the rule, or nothing for a shape that needs no integration
 */
export function integrationRule(
  { shape, mounting }: Pick<Source, "shape" | "mounting">,
  x: number,
  y: number,
  z: number,
): IntegrationRule | undefined {
  const slanted = elements(shape, x, y, z, mounting === "free-edge");
  if (mounting === "free-edge") return slanted === undefined ? undefined : { ...slanted, whole: elements(shape, x, y, z, false) };
  if (shape.kind === "disc") {
    const edge = discEdge(shape.radius, shape.innerRadius, Math.abs(x), Math.hypot(y, z));
    // From a million radii away, or along a hair of an annulus, the edge would lose more digits than the finest tolerance has.
    return edge.cancellation > 1e6 ? slanted : edge;
  }
  if (shape.kind !== "rectangle") return slanted;
  const { width, height, bendRadius } = shape;
  // A panel very narrow against its distance would lose digits as an integral around its edge, and needs few points across.
  const slender = width < 1e-3 * Math.hypot(x, y, z);
  return slender || bendRadius !== undefined ? slanted : rectangleEdge(width, height, Math.abs(x), y, z);
}

/** Element by element, each weighted by (1 + cos θ)/2 when its edge is free. */
function elements(shape: SourceShape, x: number, y: number, z: number, free: boolean): IntegrationRule | undefined {
  const off = Math.hypot(y, z);
  if (shape.kind === "ring") return ringRule(shape.radius, x, off, free);
  if (shape.kind === "disc") return discSurface(shape.radius, shape.innerRadius, x, off, free);
  return shape.kind === "rectangle" ? rectangleSurface(shape.width, shape.height, shape.bendRadius, x, y, z, free) : undefined;
}
