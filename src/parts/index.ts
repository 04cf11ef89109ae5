export { capacitor, type Capacitor } from "./capacitor";
export { coupling, type Coupling } from "./coupling";
export { driverImpedance, type DriverImpedance, type DriverOptions } from "./driver-impedance";
export type { DriverModel } from "./driver-model";
export { inductor, type Inductor } from "./inductor";
export { lPad, type LPad } from "./l-pad";
export { part, type CustomBranch, type CustomPart } from "./custom/custom-part";
export type { LawData } from "./custom/law-data";
export { capacitive, fractional, inductive, inParallel, inSeries, resistive } from "./custom/laws";
export type { FourTerminalPart, Part, PartOrCoupling, ThreeTerminalPart, TwoTerminalPart } from "./part";
export { resistor, type Resistor } from "./resistor";
export { transformer, type Transformer, type TransformerOptions } from "./transformer";
export { closedBox, closedBoxResponse, type ClosedBox } from "./closed-box";
export type { CoilModel } from "./coil-formula";
export { driverParameters, type DriverParameters, type DriverParametersOptions, type FittedParameters } from "./driver-parameters";
export { equivalentPeakDissipationResistance } from "./equivalent-peak-dissipation";
export {
  parametersFromAddedMass,
  parametersFromKnownVolume,
  type FreeAirParameters,
  type MechanicalParameters,
} from "./mechanical-parameters";
export { displacementPerVolt } from "./displacement-per-volt";
export type { DriverMotion, DriverMotionOptions } from "./driver-motion";
export { displacementLevelDb, volumeDisplacementFromLevel } from "./piston-level";
export { thieleSmall, type DriverConstants, type ThieleSmall } from "./thiele-small";
export type { ThreePointParameters } from "./three-point-rule";
export { coaxialMutualInductance } from "./winding/coaxial-mutual-inductance";
export { couplingFromPlacement, type CoilPlace, type PlacedCoupling } from "./winding/coupling-from-placement";
export { lundinInductance, wheelerSolenoidInductance, wheelerWindingInductance } from "./winding/approximations";
export { nagaokaCoefficient, solenoidInductance, type Solenoid } from "./winding/solenoid";
export type { Winding } from "./winding/winding";
export { brooksCoilInductance, windingInductance } from "./winding/winding-inductance";
export { contactResistance, type ContactKind, type ResistanceRange } from "./conductor/contact-resistance";
export { fuseResistance, type FuseResistance } from "./conductor/fuse-resistance";
export { MILD_STEEL, type Conductor, type ConductorMaterial } from "./conductor/material";
export { skinEffect, type SkinEffect } from "./conductor/skin-effect";
export { wireDiameter, wireGauge, wireResistance } from "./conductor/wire";
export { wireRun, type WireRun } from "./conductor/wire-run";
export type { PoseAxis } from "./winding/board-search";
export { leastCoupling, type BoardCoupling, type BoardPlace, type LeastCoupling } from "./winding/least-coupling";
export { selfResonance } from "./winding/self-resonance";
export { smallestCoil, type SmallestCoil } from "./winding/smallest-coil";
export { turnsToTakeOff, windCoil, type TurnsTakenOff } from "./winding/wind-coil";
export { windingResistance, type WindingResistance } from "./winding/winding-resistance";
export { woundCoilLaw, type WoundCoilLaw } from "./winding/wound-coil-law";
export type { CheckedWinding } from "./winding/winding";
export type { Section } from "./winding/gap";
export type { Former, FormerSize, MagnetWire, WireSize, WoundCoil } from "./winding/wound-coil";
export { bipolarElectrolytic, type ElectrolyticRange, type ValueRange } from "./bipolar-electrolytic";
export { bypassedCapacitor, type BypassedCapacitor } from "./bypassed-capacitor";
export { capacitorEsr } from "./capacitor-esr";
export { readStockCsv } from "./stock/read-stock-csv";
export { stock, stockToJSON } from "./stock/stock";
export type { BoughtPart, Stock, StockFacts, StockKind, StockLine, StockPart } from "./stock/stock-part";
export { writeStockCsv, type WriteStockOptions } from "./stock/write-stock-csv";
export { bestCombination, type BestCombination, type CombinationOptions } from "./stock/best-combination";
export { combination, type Arrangement, type Combination } from "./stock/combination";
