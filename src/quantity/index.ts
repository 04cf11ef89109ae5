export { startWorking, type Working, type WorkingBuilder, type WorkingStep } from "./working";
