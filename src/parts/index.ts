export { capacitor, type Capacitor } from "./capacitor";
export { coupling, type Coupling } from "./coupling";
export { driverImpedance, type DriverImpedance, type DriverModel, type DriverOptions } from "./driver-impedance";
export { inductor, type Inductor } from "./inductor";
export { lPad, type LPad } from "./l-pad";
export type { Branch, Evaluator, Expansion, IdealTransformer, Law, WindingCoupling } from "./law";
export { expandPart, type Part, type PartOrCoupling, type TwoTerminalPart } from "./part";
export { resistor, type Resistor } from "./resistor";
export { transformer, type Transformer, type TransformerOptions } from "./transformer";
