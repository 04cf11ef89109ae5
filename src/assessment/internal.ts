// What other floors use and nobody outside needs.
export { anchoredGrid } from "./band";
export { qBehind } from "./bass";
export { dampedAt, HIGHEST, noWoofer, sourceOf, sourceSeen, woofersOf } from "./source-seen";
export { narrowDips } from "./load-grid";
export { goalOf } from "./goal";
export { checkPlaces } from "./goal-parts";
export { knownBand, RATED_SHARE } from "./load";
export { lossEvenIfSilent } from "./loss";
export { distanceOf, heardWithPartner, withPartner } from "./heard-places";
export { shapeOf } from "./target-shape";
export { QUIETEST_DB } from "./third-octaves";
export { humpAllowed, humpLimit, humpOf, outsideBand, type OutsideBand } from "./outside-band";
export { overItsBand } from "./quality";
export { partRatings } from "./ratings";
export { passbandGrid, spareDb, sparedDb, sparesOf } from "./spared";
export { changeWords } from "./change-words";
export { drawnLosses, drawnLossesFrom, type DrawnLosses, type DrawnOptions } from "./spread/drawn-losses";
export { contributionName, shareSentence, toleranceText } from "./spread/spread-words";
