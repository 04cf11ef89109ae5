export {
  acousticTarget,
  type AcousticTarget,
  type AcousticTargetOptions,
  type MeasuredAcousticTarget,
  type RollOff,
} from "./acoustic-target";
export { allPassFilter } from "./all-pass-filter";
export { allPassLattice, type LatticeNodes, type LatticeShape } from "./all-pass-lattice";
export { type AllPassNetwork, type AllPassOptions } from "./all-pass-options";
export { allPole } from "./all-pole";
export { approximateConjugate, type ApproximateConjugate, type ApproximateConjugateShape } from "./approximate-conjugate";
export { attenuator, type Attenuator, type AttenuatorShape } from "./attenuator";
export { baffleStep, type BaffleStep, type ParallelRl } from "./baffle-step";
export { bandPass } from "./band-pass";
export { bessel, type BesselNormalization } from "./bessel";
export { type Branch, type BranchNodes, type CheckedNodes, type PlacedIn, type PlacedName, type PrefixOf } from "./branch";
export { bridgedTee, type BridgedTeeShape } from "./bridged-tee";
export { butterworth } from "./butterworth";
export { cascade } from "./cascade";
export { type LadderBranch, type LadderEntries } from "./chain-branch";
export { chebyshev } from "./chebyshev";
export { conjugateNetwork, type ConjugateNetwork, type ConjugateOptions, type ConjugateShape } from "./conjugate-network";
export { criticallyDamped } from "./critically-damped";
export { crossover, type CrossoverOptions } from "./crossover";
export type { Crossover } from "./crossover-data";
export { crossoverSum, type CrossoverSum } from "./crossover-sum";
export { delayDerived, type DelayDerived } from "./delay-derived";
export { derivedThreeWay, type DerivedThreeWay, type DerivedThreeWayOptions, type DerivedWay } from "./derived-three-way";
export { type FamilyName, type FamilyOptions } from "./family";
export { type ElectricalFit } from "./fit-electrical";
export { type Filter, type PrototypeFunction } from "./filter";
export { type Flatness } from "./flatness";
export { type GivenDriver } from "./given-driver";
export { groupDelayOf } from "./group-delay-of";
export { highPass } from "./high-pass";
export { ladder, type LadderOptions, type LadderPass } from "./ladder";
export { ladderImpedance } from "./ladder-impedance";
export { type LadderLosses } from "./ladder-losses";
export { ladderValues } from "./ladder-values";
export { legendrePapoulis } from "./legendre-papoulis";
export { linkwitzRiley } from "./linkwitz-riley";
export { lossyZobel, type LossyZobel } from "./lossy-zobel";
export { lowPass } from "./low-pass";
export type { Ladder, LadderElement, LoadedLadder } from "./ladder-data";
export { multiWay, type MultiWay, type MultiWayOptions, type Way } from "./multi-way";
export { breakupTrap, parallelTrap, type Notch, type NotchOptions, type ParallelRlc } from "./parallel-trap";
export type { Polarity } from "./crossover-data";
export { polynomialsOf } from "./polynomials-of";
export type { Family, Prototype } from "./prototype-data";
export { refitLadder, type FitError, type LossyLadder } from "./refit-ladder";
export { seriesAttenuator, type OneResistor, type SeriesAttenuator } from "./series-attenuator";
export {
  seriesCrossover,
  type SeriesCrossover,
  type SeriesCrossoverOptions,
  type SeriesCrossoverShape,
  type SeriesTerminals,
} from "./series-crossover";
export { shuntAttenuator, type ShuntAttenuator } from "./shunt-attenuator";
export { shuntNotch, type SeriesRlc } from "./shunt-notch";
export { stepResponseOf } from "./step-response-of";
export { subtractive } from "./subtractive";
export { type SumDeviation } from "./sum-deviation";
export { sumOf, type Sum, type SummedWay } from "./sum-of";
export { type ThreeWayTarget } from "./three-way-equations";
export { zobel, type SeriesRc, type Zobel } from "./zobel";
