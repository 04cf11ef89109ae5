import { gaussLegendre } from "../numeric";
import { circleExtent, roughExtent } from "./points-needed";
import { room, type IntegrationRule } from "./rule-points";

/** A thin ring; by symmetry half of it, at the middle of equal arcs, which is Gauss's rule in cos φ. */
export function ringRule(radius: number, x: number, off: number, free: boolean): IntegrationRule {
  const middle = Math.hypot(x, off);
  return {
    kind: "surface",
    common: middle,
    cancellation: 1,
    extents: [circleExtent(radius, x, off)],
    fill(points, n) {
      room(points, n);
      for (let i = 0; i < n; i++) {
        const farther = radius * radius - 2 * radius * off * Math.cos(((i + 0.5) * Math.PI) / n);
        const path = Math.sqrt(x * x + off * off + farther);
        points.lengths[i] = farther / (path + middle);
        points.amplitudes[i] = (free ? (1 + x / path) / 2 : 1) / (n * path);
      }
    },
  };
}

/** A disc or annulus element by element, as elements need that do not sound alike in all directions. */
export function discSurface(outer: number, inner: number, x: number, off: number, free: boolean): IntegrationRule {
  const half = (outer - inner) / 2;
  const middle = Math.hypot(x, off);
  const nearest = Math.hypot(x, Math.max(0, off - outer));
  const scale = 1 / (outer * outer - inner * inner);
  return {
    kind: "surface",
    common: middle,
    cancellation: 1,
    extents: [circleExtent(outer, x, off), roughExtent(half, nearest, (off + outer) / Math.hypot(x, off + outer))],
    fill(points, around, across) {
      const { nodes, weights } = gaussLegendre(across);
      room(points, around * across);
      let at = 0;
      for (let j = 0; j < across; j++) {
        const r = inner + half * (1 + nodes[j]!);
        for (let i = 0; i < around; i++) {
          const farther = r * r - 2 * r * off * Math.cos(((i + 0.5) * Math.PI) / around);
          const path = Math.sqrt(x * x + off * off + farther);
          points.lengths[at] = farther / (path + middle);
          points.amplitudes[at++] = (scale * weights[j]! * half * r * (free ? 1 + x / path : 2)) / (around * path);
        }
      }
    },
  };
}

/** A disc or annulus as an integral around its edge or edges. */
export function discEdge(outer: number, inner: number, height: number, off: number): IntegrationRule {
  const circles = inner > 0 ? [outer, -inner] : [outer];
  const scale = 2 / (outer * outer - inner * inner);
  return {
    kind: "edge",
    common: height,
    cancellation: Math.max(1, (outer * Math.max(outer, off)) / (outer * outer - inner * inner)),
    extents: [circleExtent(outer, height, off)],
    fill(points, n) {
      room(points, n * circles.length);
      let at = 0;
      for (const signed of circles) {
        const radius = Math.abs(signed);
        for (let i = 0; i < n; i++) {
          const cos = Math.cos(((i + 0.5) * Math.PI) / n);
          const aside = off * off + radius * radius - 2 * radius * off * cos;
          const path = Math.sqrt(height * height + aside);
          points.lengths[at] = aside / (2 * (path + height));
          points.amplitudes[at++] = (scale * signed * (radius - off * cos)) / (n * (path + height));
        }
      }
    },
  };
}
