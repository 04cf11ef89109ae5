export { frequencyResponse, type FrequencyResponse, type Mark } from "./frequency-response";
