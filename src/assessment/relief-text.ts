import type { DriverRelief } from "../loudspeaker";

/** What would bring a driver back within its limit, in words. */
export function reliefText({ attenuationDb, cornerOctaves, steeperDb }: DriverRelief): string {
  const ways = [
    `${attenuationDb.toFixed(1)} dB less level, by a pad or a smaller amplifier`,
    ...(cornerOctaves === undefined ? [] : [`a corner higher by ${cornerOctaves.toFixed(2)} octaves`]),
    ...(steeperDb === undefined ? [] : [`one more order with the same corner, which takes ${steeperDb.toFixed(1)} dB off`]),
  ];
  return `What relieves it: ${ways.join("; or ")}`;
}
