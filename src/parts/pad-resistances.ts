/** Ω: the resistance in series with a load R, of an L-pad that leaves the share 1/k of the voltage: R (1 − 1/k). */
export function padSeries(load: number, lost: number): number {
  return load * lost;
}

/** Ω: the resistance across the load R, R / (k − 1); infinite where nothing is attenuated. */
export function padShunt(load: number, excess: number): number {
  return load / excess;
}
