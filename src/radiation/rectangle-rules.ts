import { gaussLegendre } from "../numeric";
import { roughExtent, straightExtent, type Extent } from "./points-needed";
import { room, type IntegrationRule } from "./rule-points";

/** A flat panel as an integral around its four sides. */
export function rectangleEdge(width: number, height: number, x: number, y: number, z: number): IntegrationRule {
  const [halfWidth, halfHeight] = [width / 2, height / 2];
  // Signed distances from the foot of the point outwards to each side.
  const sides = [halfWidth - y, halfWidth + y];
  const ends = [halfHeight - z, halfHeight + z];
  const worst = (half: number, off: readonly number[], along: number): Extent => {
    const [a, b] = off.map((distance) => straightExtent(half, Math.hypot(x, distance), along)) as [Extent, Extent];
    return { slope: Math.max(a.slope, b.slope), ellipse: Math.min(a.ellipse, b.ellipse) };
  };
  return {
    kind: "edge",
    common: x,
    cancellation: Math.max(1, Math.hypot(x, y, z) / Math.min(width, height)),
    extents: [worst(halfHeight, sides, z), worst(halfWidth, ends, y)],
    fill(points, alongHeight, alongWidth) {
      room(points, 2 * (alongHeight + alongWidth));
      let at = 0;
      const side = (distance: number, half: number, along: number, n: number): void => {
        const { nodes, weights } = gaussLegendre(n);
        for (let i = 0; i < n; i++) {
          const aside = distance * distance + (half * nodes[i]! - along) ** 2;
          const path = Math.sqrt(x * x + aside);
          points.lengths[at] = aside / (2 * (path + x));
          points.amplitudes[at++] = (weights[i]! * half * distance) / (width * height * (path + x));
        }
      };
      for (const distance of sides) side(distance, halfHeight, z, alongHeight);
      for (const distance of ends) side(distance, halfWidth, y, alongWidth);
    },
  };
}

/** A line or panel element by element, flat or bent. */
export function rectangleSurface(
  width: number,
  height: number,
  bend: number | undefined,
  x: number,
  y: number,
  z: number,
  free: boolean,
): IntegrationRule {
  const half = height / 2;
  const middle = Math.hypot(x, y, z);
  const beside = Math.max(0, Math.abs(y) - width / 2);
  const along = bend === undefined ? straightExtent(half, Math.hypot(x, beside), z) : arcExtent(half, bend, x, beside, z);
  const extents = [along];
  if (width > 0) {
    const off = bend === undefined ? Math.hypot(x, Math.max(0, Math.abs(z) - half)) : Math.max(1e-9, arcNearest(half, bend, x, 0, z));
    extents.push(straightExtent(width / 2, off, y));
  }
  return {
    kind: "surface",
    common: middle,
    cancellation: 1,
    extents,
    fill(points, alongHeight, across) {
      const tall = gaussLegendre(alongHeight);
      const wide = width > 0 ? gaussLegendre(across) : gaussLegendre(1);
      room(points, tall.nodes.length * wide.nodes.length);
      let at = 0;
      for (let i = 0; i < tall.nodes.length; i++) {
        const s = half * tall.nodes[i]!;
        const angle = bend === undefined ? 0 : s / bend;
        const ex = bend === undefined ? 0 : -2 * bend * Math.sin(angle / 2) ** 2;
        const ez = bend === undefined ? s : bend * Math.sin(angle);
        const [dx, dz] = [x - ex, z - ez];
        for (let j = 0; j < wide.nodes.length; j++) {
          const ey = (width / 2) * wide.nodes[j]!;
          const dy = y - ey;
          const path = Math.sqrt(dx * dx + dy * dy + dz * dz);
          const slant = free ? (1 + (dx * Math.cos(angle) + dz * Math.sin(angle)) / path) / 2 : 1;
          points.lengths[at] = (ex * (ex - 2 * x) + ey * (ey - 2 * y) + ez * (ez - 2 * z)) / (path + middle);
          points.amplitudes[at++] = (slant * tall.weights[i]! * wide.weights[j]!) / (4 * path);
        }
      }
    },
  };
}

/** Distance in m from a point to the nearest of a few places of an arc. */
function arcNearest(half: number, bend: number, x: number, y: number, z: number): number {
  let nearest = Infinity;
  for (let i = -8; i <= 8; i++) {
    const angle = (half * i) / (8 * bend);
    nearest = Math.min(nearest, Math.hypot(x - bend * (Math.cos(angle) - 1), y, z - bend * Math.sin(angle)));
  }
  return nearest;
}

function arcExtent(half: number, bend: number, x: number, y: number, z: number): Extent {
  let slant = 0;
  for (let i = -8; i <= 8; i++) {
    const angle = (half * i) / (8 * bend);
    const dx = x - bend * (Math.cos(angle) - 1);
    const dz = z - bend * Math.sin(angle);
    slant = Math.max(slant, Math.abs(dx * Math.sin(angle) - dz * Math.cos(angle)) / Math.hypot(dx, y, dz));
  }
  return roughExtent(half, arcNearest(half, bend, x, y, z), slant);
}
