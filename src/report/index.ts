export { cautions } from "./cautions";
export { comparisonPage, type ComparisonPageOptions } from "./comparison-page";
export type { Alternative } from "./page/alternative";
export { redesignText } from "./redesign-text";
export { comparisonText, type ComparisonTextOptions } from "./comparison-text";
export { connections } from "./connections";
export { anglesPlot, type AngleSeries, type AnglesPlotOptions } from "./angles-plot";
export { angleMapPlot, type AngleMapPlotOptions } from "./angle-map-plot";
export {
  frequencyPlot,
  type FrequencyPlotOptions,
  type PlotArea,
  type PlotFrame,
  type PlotMarker,
  type PlotPanel,
  type PlotSeries,
} from "./frequency-plot";
export { impedancePlot, type ImpedancePlotOptions, type ImpedanceSeries } from "./impedance-plot";
export type { Markup } from "./markup";
export { type ColorName, type LineKind, type LineStyle, type Paint } from "./palette";
export { partsList, type PartsListLine, type RequiredRating } from "./parts-list";
export { type Picture } from "./picture";
export { schematic, type SchematicOptions } from "./schematic/schematic";
export { responsePlot, type PlotLevels, type ResponsePlotOptions, type ResponseSeries } from "./response-plot";
export { buildSheet, type BuildSheet, type BuildSheetOptions } from "./build-sheet/build-sheet";
export { buildSheetText } from "./build-sheet/build-sheet-text";
export type { CoilLayout, CoilPlan } from "./build-sheet/coil-plan-data";
export type { Joint, WiredPart } from "./build-sheet/joints";
export type { MeterReading } from "./build-sheet/readings";
export type { BuildStep } from "./build-sheet/steps";
export { topologyText } from "./topology-text";
export { spreadPlot, type SpreadPlotOptions } from "./spread-plot";
