import { FIBRE_NUMBERS } from './account-program.ts';
import type { ElasticFrame, Model } from './model.ts';

/**
 * What turns a strut's natural forces into the strain of its outermost fibre at the two faces where it leaves its node spheres, FIBRE_NUMBERS per strut in
 * the model's order: for each face its place as a share of the length from end 0, 1 / (E A) and r / (E I) there (1/N, 1/(N mm)). Round struts, straight
 * taper; faces do not pass mid-span. modulusMPa: what the natural stiffness holds for, where the frame does not tell each strut's; the model's struts may
 * have a `part` of theirs each.
 */
export function fibresOf(
  { graph, lengthMm, modulusMPa: moduli }: ElasticFrame,
  { strutOf }: Pick<Model, 'strutOf'>,
  modulusMPa: number,
  part?: Float64Array,
): Float64Array {
  const fibres = new Float64Array(FIBRE_NUMBERS * strutOf.length);
  strutOf.forEach((s, at) => {
    for (let end = 0; end < 2; end++) {
      const share = Math.min(0.5, graph.nodeRadius[graph.ends[2 * s + end]] / lengthMm[s]);
      const diameter = graph.diameters[2 * s + end] * (1 - share) + graph.diameters[2 * s + 1 - end] * share;
      const modulus = (moduli?.[s] ?? modulusMPa) * (part ? part[at] : 1);
      const [perArea, perModulus] = [4 / (Math.PI * modulus * diameter ** 2), 32 / (Math.PI * modulus * diameter ** 3)];
      fibres.set([end === 0 ? share : 1 - share, perArea, perModulus], FIBRE_NUMBERS * at + 3 * end);
    }
  });
  return fibres;
}
