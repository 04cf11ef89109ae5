/** m³/s², peak: of an area S in m² that moves by x in m, peak, at f in Hz. */
export function volumeAcceleration(area: number, frequency: number, displacement: number): number {
  return area * (2 * Math.PI * frequency) ** 2 * displacement;
}

/** Pa, root mean square: of a small source of a volume acceleration (m³/s², peak) that radiates into a solid angle (sr), at a distance in m, in a medium of a density in kg/m³. */
export function simpleSourcePressure(density: number, acceleration: number, solidAngle: number, distance: number): number {
  return (density * acceleration) / (Math.SQRT2 * solidAngle * distance);
}
