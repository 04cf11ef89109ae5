/** Sound pressure that counts as 0 dB in air, Pa rms: 20 µPa. */
export const REFERENCE_PRESSURE = 20e-6;

/** The drive at which a loudspeaker is predicted and judged unless another is stated, V rms: 2.83, as it is set by a meter. */
export const DRIVE_VOLTAGE = 2.83;

/**
 * The voltage of 1 W in 8 Ω, √8 V, which the trade rounds to 2.83 V: the sensitivity of a driver that is computed from its constants is
 * counted by power, 10 lg(8 Ω/Re) above that for 1 W. `DRIVE_VOLTAGE` is 0.0048 dB more.
 */
export const SENSITIVITY_VOLTAGE = 2.8284271247461903;

/** Permeability of vacuum, H/m: 4π·10⁻⁷, exact until 2019 and since then good to better than 1e-9. */
export const VACUUM_PERMEABILITY = 1.2566370614359173e-6;

/** Permittivity of vacuum, F/m. */
export const VACUUM_PERMITTIVITY = 8.854187813e-12;
