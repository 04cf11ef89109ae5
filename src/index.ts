// What is used most, with every type that its signatures name; everything else has its floor (dividing-network/<floor>). The project file
// (dividing-network/project) brings a schema library along and is reached by its subpath alone.
export { DividingNetworkError, type Issue } from "./errors";
export {
  formatQuantity, nearestPreferred, parseQuantity, preferredAbove, preferredBelow, preferredValues, workingMarkdown, workingText,
  type Area, type AreaText, type Capacitance, type CapacitanceText, type Current, type CurrentText, type FormatOptions, type Frequency, type FrequencyText, type Inductance,
  type InductanceText, type Length, type LengthText, type Mass, type MassText, type Power, type PowerText, type PreferredSeries, type Pressure, type PressureText,
  type QuantityText, type RelativeTolerance, type Resistance, type ResistanceCode, type ResistanceText, type Temperature, type TemperatureText, type Time,
  type TimeText, type Unit, type Voltage, type VoltageText, type Working, type WorkingStep, type FrequencyBand,
} from "./quantity";
export { linearGrid, logGrid, type LongWorkOptions } from "./numeric";
export {
  crossings, extremes, frequencyResponse, fromLevelAndPhase, groupDelay, levelDb, magnitude, minimumPhase, minimumPhaseWithError, phaseDegrees, readImpulseText,
  readResponseText, readTouchstone, readWav, responseFromJSON, responseOf, responseToJSON, unwrappedPhaseDegrees, valueAt,
  writeResponseText,
  type ComplexParts, type Crossing, type Extreme, type Extremes, type FrequencyResponse, type ImpulseResponse, type Mark, type MinimumPhaseOptions, type MinimumPhaseResult,
  type ResponseJSON, type ResponseText, type TextColumns, type TouchstoneOnePort, type TouchstoneParameter, type TransferFunction,
  type WriteTextOptions,
} from "./response";
export {
  brooksCoilInductance, capacitor, coaxialMutualInductance, coupling, couplingFromPlacement, driverImpedance, driverParameters,
  equivalentPeakDissipationResistance, inductor, lPad, resistor, skinEffect, solenoidInductance, thieleSmall, transformer,
  windingInductance, wireDiameter, wireResistance,
  type BoughtPart, type Capacitor, type CoilModel, type CoilPlace, type Conductor, type ConductorMaterial, type Coupling, type DriverConstants,
  type DriverImpedance, type DriverModel, type DriverMotion, type DriverMotionOptions, type DriverOptions, type DriverParameters, type DriverParametersOptions, type FittedParameters,
  type Inductor, type LPad, type Part, type PartOrCoupling, type PlacedCoupling, type Resistor, type SkinEffect, type Solenoid, type Stock, type StockPart,
  type ThieleSmall, type ThreePointParameters, type Transformer, type TransformerOptions, type TwoTerminalPart, type ThreeTerminalPart, type FourTerminalPart, type CustomBranch, type CustomPart, type LawData, type Winding,
} from "./parts";
export {
  compile, diagnose, dissipation, drivingPointImpedance, fragment, impedanceMinimum, join, network, networkFromJSON, networkToJSON, sensitivities, solve,
  stress, sumObjective, tolerance,
  networkFromSpice, networkToSpice, type SpiceNetwork, type SpiceOptions,
  type Checked, type CheckedFragment, type CheckedPieces, type CheckedShape, type CompiledNetwork, type Dissipation, type Distribution,
  type DriverJSON, type DrivingPointOptions, type Entries, type Entry, type ImpedanceMinimum, type Joined, type LevelLimit, type Network, type NetworkIssue,
  type NetworkJSON, type NetworkJSONOptions, type NodeName, type NodeOrPartName, type ObjectiveOptions, type PartJSON, type PartName,
  type PartTolerance, type Sensitivities, type SensitivityOptions, type SourceImpedance, type SumObjective, type Sweep, type SweepOptions,
  type Tolerance, type ToleranceBand, type ToleranceByKind, type ToleranceOptions, type UncheckedEntries, type Variable, type Yield,
  type CompiledSweepOptions, type SweepValues, type AmplitudeStress, type PartStress, type PowerStress, type SignalSpectrum, type SpectrumLevels, type Stress, type StressOptions,
} from "./network";
export { airAbsorption, speedOfSound, type Air, type AirConditions, type Point, type StatedAir } from "./physics";
export { lineDirectivity, pistonDirectivity, pistonRadiationImpedance } from "./radiation";
export {
  attenuator, baffleStep, bessel, butterworth, chebyshev, conjugateNetwork, crossover, crossoverSum, highPass, ladder, ladderValues,
  legendrePapoulis, linkwitzRiley, lowPass, multiWay, parallelTrap, seriesCrossover, shuntNotch, zobel,
  type Attenuator, type AttenuatorShape, type BaffleStep, type BesselNormalization, type Branch, type BranchNodes, type CheckedNodes,
  type ConjugateNetwork, type ConjugateOptions, type ConjugateShape, type Crossover, type CrossoverOptions, type CrossoverSum, type Family,
  type FamilyName, type FamilyOptions, type Ladder, type LadderBranch, type LadderElement, type LadderEntries, type LadderOptions,
  type LadderPass, type LoadedLadder, type MultiWay, type MultiWayOptions, type Notch, type NotchOptions, type ParallelRl, type ParallelRlc,
  type PlacedIn, type PlacedName, type Polarity, type PrefixOf, type Prototype, type SeriesCrossover, type SeriesCrossoverOptions,
  type SeriesCrossoverShape, type SeriesRc, type SeriesRlc, type SeriesTerminals, type Sum, type SumDeviation, type Way, type Zobel,
  type Filter, type GivenDriver, type PrototypeFunction,
} from "./alignments";
export {
  commonPlaces, loudspeaker, predict, pressureAtPlace, pressurePerVolt,
  type DriverRole, type Loudspeaker, type LoudspeakerOptions, type MeasuredPressure, type Place, type PlacedDriver, type Prediction,
  type PredictOptions, type PressureAtPlace, type PressurePerVolt,
  type AskedPlace, type DriverRatings, type DriverRatingsOptions, type DriverStress, type DriverRelief, type ExcursionStress,
} from "./loudspeaker";
export {
  assess, checkModel, compare, comparePair, type PairComparison, type PairDifference, type PairHalf, type PairOptions,
  type Assessment, type AssessOptions, type Band, type BandResidual, type BandText, type BassDamping, type Cause, type OutsideStretch, type TopicName, type CompareOptions, type Comparison, type CurrentShare,
  type Finding, type Handover, type Load, type ModelCheck, type OffAxisChange, type SensitivityLevels, type SideDifference, type Smoothness,
  spread, type DriverTolerance, type PairPercentiles, type PairSpread, type Spread, type SpreadBand, type SpreadContribution, type SpreadCorner, type SpreadCriterion, type SpreadOptions, type Topic, type Verdict, type WholeMeasurement,
  goal, lossOf, suspects, suspectText, type Danger, type Derating, type Fault, type Goal, type GoalAmplifier, type GoalAmplifierOptions, type GoalLoss, type GoalOptions, type GoalPlace, type Intention, type IntentionOptions, type Judgement, type Overall, type Partner, type PartnerOptions, type PlaceLoss, type Quality, type RatingCheck, type Ratings, type Repeatability, type RisingBranch, type SparedDriver, type Suspect, type SuspectedFault, type SuspectsOptions, type TopicVerdict, type Trust,
} from "./assessment";
export {
  anglesPlot, cautions, comparisonPage, comparisonText, type ComparisonTextOptions, connections, frequencyPlot, impedancePlot, partsList, responsePlot,
  type AngleSeries, type AnglesPlotOptions, type ColorName, type ComparisonPageOptions, type FrequencyPlotOptions,
  type ImpedancePlotOptions, type ImpedanceSeries, type LineKind, type LineStyle, type Markup, type Paint, type PartsListLine, type RequiredRating, type Picture,
  type Alternative, type BuildSheetOptions, type CoilLayout, type PlotArea, type PlotFrame, type PlotLevels, type PlotMarker, type PlotPanel, type PlotSeries, type ResponsePlotOptions, type ResponseSeries,
} from "./report";
