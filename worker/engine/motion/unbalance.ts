/**
 * A centre of mass beside the middle, told as rotors tell it: unbalance m e (g mm), and e omega (mm/s), the speed of the centre of mass, which
 * ISO 21940-11 grades rotors on bearings by. An analogy only: no grade exists for balls. relative: e over the radius.
 */
export function unbalance(massG: number, offsetMm: number, spinRadS: number, radiusMm: number) {
  return { unbalanceGMm: massG * offsetMm, speedMmS: offsetMm * spinRadS, relative: offsetMm / radiusMm };
}
