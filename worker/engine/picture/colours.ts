/** Red, green and blue, 0 to 255, as shown (sRGB). */
export type Colour = readonly [number, number, number];

/** For roles, in order: colours that people of any colour vision tell apart (Okabe and Ito 2008). */
export const ROLE_COLOURS: readonly Colour[] = [
  [0, 114, 178],
  [230, 159, 0],
  [0, 158, 115],
  [204, 121, 167],
  [86, 180, 233],
  [213, 94, 0],
];

/** Part that is marked, beside the rest: vermilion on grey differs in lightness too. */
export const MARKED: Colour = [213, 94, 0];
export const PLAIN: Colour = [176, 182, 188];

/** A scale that grows evenly in lightness, so that it reads in grey too: blue to yellow (stops of the map "cividis", Nunez and others 2018, rounded). */
const SCALE: readonly Colour[] = [
  [0, 32, 76],
  [0, 66, 112],
  [57, 86, 108],
  [98, 107, 110],
  [138, 129, 117],
  [183, 152, 108],
  [222, 180, 88],
  [255, 233, 69],
];

/** Colour of a share from 0 to 1. */
export function scaleColour(share: number): Colour {
  const at = Math.min(1, Math.max(0, share)) * (SCALE.length - 1);
  const k = Math.min(SCALE.length - 2, Math.floor(at));
  return [0, 1, 2].map((i) => Math.round(SCALE[k][i] + (at - k) * (SCALE[k + 1][i] - SCALE[k][i]))) as unknown as Colour;
}

/** Shares of light, 0 to 1, of a shown colour (IEC 61966-2-1). */
export const linearColour = (colour: Colour): number[] =>
  colour.map((value) => (value <= 10.31475 ? value / 255 / 12.92 : ((value / 255 + 0.055) / 1.055) ** 2.4));

export const cssColour = ([r, g, b]: Colour): string => `#${[r, g, b].map((value) => value.toString(16).padStart(2, '0')).join('')}`;
