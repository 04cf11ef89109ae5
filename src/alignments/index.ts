export {
  acousticTarget,
  type AcousticTarget,
  type AcousticTargetOptions,
  type MeasuredAcousticTarget,
  type RollOff,
} from "./acoustic-target";
export { allPassFilter } from "./filters/all-pass-filter";
export { allPassLattice, type LatticeNodes, type LatticeShape } from "./compensation/all-pass-lattice";
export { type AllPassNetwork, type AllPassOptions } from "./compensation/all-pass-options";
export { allPole } from "./prototypes/all-pole";
export { approximateConjugate, type ApproximateConjugate, type ApproximateConjugateShape } from "./compensation/approximate-conjugate";
export { attenuator, type Attenuator, type AttenuatorShape } from "./compensation/attenuator";
export { baffleStep, type BaffleStep, type ParallelRl } from "./compensation/baffle-step";
export { bandPass } from "./filters/band-pass";
export { bessel, type BesselNormalization } from "./prototypes/bessel";
export { type Branch, type BranchNodes, type CheckedNodes, type PlacedIn, type PlacedName, type PrefixOf } from "./branch";
export { bridgedTee, type BridgedTeeShape } from "./compensation/bridged-tee";
export { butterworth } from "./prototypes/butterworth";
export { cascade } from "./filters/cascade";
export { type LadderBranch, type LadderEntries } from "./ladders/chain-branch";
export { chebyshev } from "./prototypes/chebyshev";
export { conjugateNetwork, type ConjugateNetwork, type ConjugateOptions, type ConjugateShape } from "./compensation/conjugate-network";
export { criticallyDamped } from "./prototypes/critically-damped";
export { crossover, type CrossoverOptions } from "./crossovers/crossover";
export type { Crossover } from "./crossovers/crossover-data";
export { crossoverSum, type CrossoverSum } from "./crossovers/crossover-sum";
export { delayDerived, type DelayDerived } from "./crossovers/delay-derived";
export { derivedThreeWay, type DerivedThreeWay, type DerivedThreeWayOptions, type DerivedWay } from "./crossovers/derived-three-way";
export { type FamilyName, type FamilyOptions } from "./prototypes/family";
export { type ElectricalFit } from "./ladders/fit-electrical";
export { type Filter, type PrototypeFunction } from "./filters/filter";
export { type Flatness } from "./compensation/flatness";
export { type GivenDriver } from "./compensation/given-driver";
export { groupDelayOf } from "./filters/group-delay-of";
export { highPass } from "./filters/high-pass";
export { ladder, type LadderOptions, type LadderPass } from "./ladders/ladder";
export { ladderImpedance } from "./ladders/ladder-impedance";
export { type LadderLosses } from "./ladders/ladder-losses";
export { ladderValues } from "./ladders/ladder-values";
export { legendrePapoulis } from "./prototypes/legendre-papoulis";
export { linkwitzRiley } from "./prototypes/linkwitz-riley";
export { lossyZobel, type LossyZobel } from "./compensation/lossy-zobel";
export { lowPass } from "./filters/low-pass";
export type { Ladder, LadderElement, LoadedLadder } from "./ladders/ladder-data";
export { multiWay, type MultiWay, type MultiWayOptions, type Way } from "./crossovers/multi-way";
export { breakupTrap, parallelTrap, type Notch, type NotchOptions, type ParallelRlc } from "./compensation/parallel-trap";
export type { Polarity } from "./crossovers/crossover-data";
export { polynomialsOf } from "./filters/polynomials-of";
export type { Family, Prototype } from "./prototypes/prototype-data";
export { refitLadder, type FitError, type LossyLadder } from "./ladders/refit-ladder";
export { seriesAttenuator, type OneResistor, type SeriesAttenuator } from "./compensation/series-attenuator";
export {
  seriesCrossover,
  type SeriesCrossover,
  type SeriesCrossoverOptions,
  type SeriesCrossoverShape,
  type SeriesTerminals,
} from "./crossovers/series-crossover";
export { shuntAttenuator, type ShuntAttenuator } from "./compensation/shunt-attenuator";
export { shuntNotch, type SeriesRlc } from "./compensation/shunt-notch";
export { stepResponseOf } from "./filters/step-response-of";
export { subtractive } from "./crossovers/subtractive";
export { type SumDeviation } from "./crossovers/sum-deviation";
export { sumOf, type Sum, type SummedWay } from "./crossovers/sum-of";
export { type ThreeWayTarget } from "./crossovers/three-way-equations";
export { zobel, type SeriesRc, type Zobel } from "./compensation/zobel";
