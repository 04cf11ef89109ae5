export { chooseValues, type CandidateFor, type ChooseValuesOptions, type ChooseValuesProgress, type ChosenValues, type DriverPolarity } from "./choose-values";
