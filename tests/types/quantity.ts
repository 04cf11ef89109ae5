// Compiled, never run: each @ts-expect-error must be an error.
import type { Capacitance, Frequency, Inductance, Length, Resistance, Temperature, Volume } from "dividing-network/quantity";

declare function coil(value: Inductance): void;
declare function condenser(value: Capacitance): void;
declare function resistance(value: Resistance): void;
declare function frequency(value: Frequency): void;
declare function length(value: Length): void;
declare function temperature(value: Temperature): void;
declare function volume(value: Volume): void;
declare const anyText: string;
declare const anyNumber: number;

coil(0.47e-3);
coil("0.47 mH");
coil("0.47mH");
coil("45 \u00b5H");
coil("45 \u03bcH");
coil("45uH");
coil("1e-3 H");
coil(`${anyNumber} mH`);
// @ts-expect-error a capacitance is no inductance
coil("6.8 µF");
// @ts-expect-error a bare number needs its unit
coil("0.47");
// @ts-expect-error a decimal comma
coil("4,7 mH");
// @ts-expect-error megahenry is a slip of the shift key
coil("4.7 MH");
// @ts-expect-error a resistor's marking
coil("4R7");
// @ts-expect-error text known only at run time goes through parseQuantity
coil(anyText);
// @ts-expect-error what follows the unit
coil("4.7 mH 5%");
// @ts-expect-error two values
coil(["4.7 mH"]);

condenser("6.8 µF");
condenser("6.8 uF");
condenser("2 mF");
condenser("220nF");
condenser("100 pF");
// @ts-expect-error an old spelling
condenser("6.8 MF");
// @ts-expect-error an old spelling
condenser("6.8 mfd");
// @ts-expect-error a resistor's marking
condenser("4R7");
// @ts-expect-error a capacitor's marking is written out
condenser("4n7");
// @ts-expect-error an inductance
condenser("1 mH");

resistance(4.7);
resistance("4.7 \u03a9");
resistance("4.7 \u2126");
resistance("4.7 ohm");
resistance("4.7kohm");
resistance("22 m\u03a9");
resistance("4R7");
resistance("R47");
resistance("47R");
resistance("2k2");
resistance("4K7");
resistance("1M0");
resistance("1R05");
// @ts-expect-error lower case
resistance("4r7");
// @ts-expect-error a frequency
resistance("4 kHz");
// @ts-expect-error no number
resistance("R");
// @ts-expect-error no number
resistance("Ω");

frequency("80 Hz");
frequency("2.5 kHz");
// @ts-expect-error prefix in the wrong case
frequency("2.5 KHz");
// @ts-expect-error unit in the wrong case
frequency("2.5 khz");
// @ts-expect-error henry is not hertz
frequency("2.5 H");

length("25 mm");
length("-3 cm");
// @ts-expect-error an area
length("25 cm²");
temperature("20 °C");
// @ts-expect-error kelvin is not taken
temperature("293 K");
volume("18 L");
volume("18 dm³");
// @ts-expect-error an area
volume("18 cm²");
