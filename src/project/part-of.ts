import { capacitor, coupling, inductor, lPad, resistor, transformer, type PartOrCoupling, type TransformerOptions } from "../parts";
import type { ProjectPart } from "./project-types";

/** The part that an entry of a project file describes; undefined for a driver, whose impedance stands elsewhere. */
export function partOf(part: ProjectPart): PartOrCoupling | undefined {
  switch (part.kind) {
    case "resistor":
      return resistor(part.resistance);
    case "inductor":
      return inductor(part.inductance, part.dcr === undefined ? {} : { dcr: part.dcr });
    case "capacitor": {
      const { capacitance, esr, dissipationFactor } = part;
      return capacitor(capacitance, { ...(esr === undefined ? {} : { esr }), ...(dissipationFactor === undefined ? {} : { dissipationFactor }) });
    }
    case "l-pad":
      return lPad({ attenuationDb: part.attenuationDb, load: part.load });
    case "coupling":
      return coupling(part.k);
    case "transformer": {
      const { name: _name, kind: _kind, nodes: _nodes, ...options } = part;
      return transformer(options as TransformerOptions);
    }
    case "driver":
      return undefined;
  }
}
