// Everything but the project file (dividing-network/project), which brings a schema library along. Helpers of single floors stay on
// their floors.
export { DividingNetworkError, type Issue } from "./errors";
export {
  amplitudeRatio, decibels, degrees, formatQuantity, nearestPreferred, parseQuantity, preferredAbove, preferredBelow, preferredValues, radians, startWorking,
  workingMarkdown, workingText,
  type Area, type AreaText, type Capacitance, type CapacitanceText, type Current, type CurrentText, type FormatOptions, type Frequency, type FrequencyBand, type FrequencyText,
  type Inductance, type InductanceText, type Length, type LengthText, type Mass, type MassText, type Power, type PowerText, type PreferredSeries,
  type Pressure, type PressureText, type Resistance, type ResistanceCode, type ResistanceText, type Temperature, type TemperatureText, type Time,
  type TimeText, type Unit, type Voltage, type VoltageText, type Volume, type VolumeText, type Working, type WorkingBuilder, type WorkingStep,
} from "./quantity";
export { interpolateLog, linearGrid, logGrid } from "./numeric";
export {
  addResponses, applyCalibration, arrivalTime, averageMeasurements, baffleStepResponse, bandMeanLevelDb, bandPowerAverage, combineNearFields, crossings, cumulativeSpectralDecay,
  decayTimes, delayResponse, divideResponses, estimateDelay, excessPhase, extremes, farFieldFromNearField, fractionalOctaveBands, frequencyResponse,
  fromLevelAndPhase, gatedResponse, gateFromGeometry, gateImpulse, gateMarks, groupDelay, impedanceFromChannels, impulseFromResponse, impulseResponse,
  levelDb, magnitude, mergeAt, minimumPhase, minimumPhaseWithError, multiplyResponses, nearFieldErrorDb, phaseDegrees, readImpulseText,
  readResponseText, readTouchstone, readWav, reciprocalResponse, relativeAcousticOffset, resample, responseFromImpulse, responseFromJSON, responseOf,
  responseToJSON, scaleResponse, smoothResponse, stepResponse, subtractResponses, toneBurstDecay, unwrappedPhaseDegrees, valueAt, weightingDb,
  writeImpulseText, writeResponseText, writeTouchstone, writeWav,
  type ComplexParts, type FrequencyResponse, type ImpulseResponse, type Mark, type ResponseJSON, type ResponseText, type TransferFunction,
} from "./response";
export {
  bipolarElectrolytic, brooksCoilInductance, bypassedCapacitor, capacitor, capacitorEsr, closedBox, closedBoxResponse, coaxialMutualInductance, contactResistance, coupling,
  couplingFromPlacement, driverImpedance, driverParameters, equivalentPeakDissipationResistance, fuseResistance, inductor, leastCoupling, displacementLevelDb, lPad,
  parametersFromAddedMass, parametersFromKnownVolume, resistor, selfResonance, skinEffect, smallestCoil, solenoidInductance, thieleSmall, transformer, turnsToTakeOff,
  volumeDisplacementFromLevel, windCoil, windingInductance, windingResistance, wireDiameter, wireGauge, wireResistance, wireRun,
  type Capacitor, type Coupling, type DriverImpedance, type DriverOptions, type Inductor, type LPad, type Part, type Resistor, type Transformer, type Winding, type WoundCoil,
} from "./parts";
export {
  compile, diagnose, dissipation, drivingPointImpedance, fragment, impedanceMinimum, join, network, networkFromJSON, networkToJSON, sensitivities, solve, sumObjective, tolerance,
  type CompiledNetwork, type Entries, type Entry, type Network, type NetworkIssue, type NetworkJSON, type NodeName, type PartName, type SourceImpedance, type Sweep, type SweepOptions,
} from "./network";
export { airAbsorption, airDensity, copperResistivity, pointInDirection, speedOfSound, type Air, type AirConditions, type Direction, type Point } from "./physics";
export {
  angularWindow, arrayDirectivity, arrayLobes, beamwidth, combineFields, coverage, dipoleSource, directivityIndex,
  displacementPressure, lineDirectivity, lineSource, listenerSensitivity, lobeTilt, measuredSource, offAxisStability, panelSource, pistonDirectivity,
  pistonDirectivityIndex, pistonHalfAngle, pistonRadiationImpedance, pistonSource, pointSource, polarLevels, polarMap,
  polarMapFromResponses, powerResponse, pressureAt, radiatedPower, responseAtAngle, responseAtPoint, ringDirectivity, ringSource, spatialAverages,
  sphereMap, twoSourceLobes, twoSourceWindow,
  type PressureField, type Source,
} from "./radiation";
export {
  allPassFilter, allPassLattice, allPole, approximateConjugate, attenuator, baffleStep, bandPass, bessel, breakupTrap, bridgedTee, butterworth, cascade, chebyshev,
  conjugateNetwork, criticallyDamped, crossover, crossoverSum, delayDerived, derivedThreeWay, groupDelayOf, highPass, ladder, ladderImpedance, ladderValues,
  legendrePapoulis, linkwitzRiley, lossyZobel, lowPass, multiWay, parallelTrap, polynomialsOf, seriesAttenuator, seriesCrossover, shuntAttenuator,
  shuntNotch, stepResponseOf, subtractive, sumOf, zobel,
  type Filter, type Polarity, type Prototype,
} from "./alignments";
export {
  commonPlaces, drivenBy, loudspeaker, polarMapOf, predict, pressureAtPlace, pressurePerVolt, sourcesOf,
  type DriverRole, type Loudspeaker, type LoudspeakerOptions, type MeasuredPressure, type Place, type PlacedDriver, type Prediction, type PredictOptions,
  type PressureAtPlace, type PressurePerVolt,
} from "./loudspeaker";
export {
  assess, checkModel, compare, driveLevelDb, handover, loadOf, offAxisChange, sensitivity, sideDifferences, smoothness,
  type Assessment, type AssessOptions, type Comparison, type CompareOptions, type Finding, type Handover, type Load, type ModelCheck, type Sensitivity,
  type Smoothness, type Topic, type Verdict, type WholeMeasurement,
} from "./assessment";
export {
  cautions, comparisonPage, comparisonText, connections, familyPlot, frequencyPlot, impedancePlot, partsList, responsePlot, type Picture,
} from "./report";
