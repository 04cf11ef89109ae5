import { gaussLegendre } from "../../numeric";
import { loopMutual } from "./loop";

/** Gauss points of each coordinate. */
const POINTS = 14;
/** Of the mean radius. */
const RADII = 10;

/**
 * Mean of the mutual inductance of two filaments, over all pairs of the rectangular section of a winding of mean radius 1, divided by µ₀: its
 * self-inductance is µ₀N² times this. The pairs are counted by their difference in radius u, their distance along the axis s and their mean radius c:
 * 4∫∫(1 − u/w)(1 − s/l)⟨m(c − u/2, c + u/2, s)⟩ du ds/(wl). At u = s = 0 the integrand has a logarithm. The rectangle of u and s is cut, outer
 * halves first, until what is left is nearly square and no larger than the winding; that is cut along its diagonal into two triangles, in which the
 * distance from the corner is taken as the fourth power of its variable.
 */
export function sectionMean(length: number, depth: number): number {
  let [u, s] = [depth, length];
  let sum = 0;
  while (s > 2 * u || s > 2) {
    sum += cell(0, u, s / 2, s, depth, length);
    s /= 2;
  }
  while (u > 2 * s) {
    sum += cell(u / 2, u, 0, s, depth, length);
    u /= 2;
  }
  return sum + corner(u, s, depth, length);
}

/** The same for a disc without length, where only u is left. */
export function discMean(depth: number): number {
  const { nodes, weights } = gaussLegendre(2 * POINTS);
  let sum = 0;
  for (let i = 0; i < nodes.length; i++) {
    const t = (1 + nodes[i]!) / 2;
    const x = t * t * t * t;
    // 2∫(1 − x) dx with dx = 4t³ dt, and half the weight for the interval from 0 to 1.
    sum += 4 * t * t * t * weights[i]! * (1 - x) * radialMean(depth * x, 0, depth);
  }
  return sum;
}

function cell(u0: number, u1: number, s0: number, s1: number, w: number, l: number): number {
  const { nodes, weights } = gaussLegendre(POINTS);
  let sum = 0;
  for (let i = 0; i < POINTS; i++) {
    const u = u0 + ((u1 - u0) * (1 + nodes[i]!)) / 2;
    for (let k = 0; k < POINTS; k++) {
      const s = s0 + ((s1 - s0) * (1 + nodes[k]!)) / 2;
      sum += weights[i]! * weights[k]! * (1 - u / w) * (1 - s / l) * radialMean(u, s, w);
    }
  }
  return sum * ((u1 - u0) / w) * ((s1 - s0) / l);
}

function corner(u1: number, s1: number, w: number, l: number): number {
  const { nodes, weights } = gaussLegendre(POINTS);
  let sum = 0;
  for (let i = 0; i < POINTS; i++) {
    const t = (1 + nodes[i]!) / 2;
    const x = t * t * t * t;
    // dx = 4t³ dt, and x once more for the width of the triangle there.
    const outer = weights[i]! * 4 * t * t * t * x;
    for (let k = 0; k < POINTS; k++) {
      const y = (1 + nodes[k]!) / 2;
      sum +=
        outer
        * weights[k]!
        * ((1 - (x * u1) / w) * (1 - (x * y * s1) / l) * radialMean(x * u1, x * y * s1, w)
          + (1 - (x * y * u1) / w) * (1 - (x * s1) / l) * radialMean(x * y * u1, x * s1, w));
    }
  }
  return sum * (u1 / w) * (s1 / l);
}

/** Mean over c, whose lower end may be next to 0, where c·ln c asks for points that lie closer. */
function radialMean(u: number, s: number, w: number): number {
  const { nodes, weights } = gaussLegendre(RADII);
  const low = 1 - w / 2 + u / 2;
  const span = w - u;
  let sum = 0;
  for (let i = 0; i < RADII; i++) {
    const t = (1 + nodes[i]!) / 2;
    const c = low + span * t * t;
    sum += weights[i]! * t * loopMutual(c - u / 2, c + u / 2, s);
  }
  return sum;
}
