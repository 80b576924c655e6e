import { shown } from './sentence.ts';

/** Sides of a strut on which pins may stand: the long pin's and the one opposite, or all four. */
export type Sides = 2 | 4;

/** A pin of the code: place 1 is next to the long pin; side 0 is the long pin's, the others follow clockwise (or opposite, of two). */
export interface CodePin {
  readonly place: number;
  readonly side: number;
  readonly counts: number;
}

/** Places that a number needs: each place holds one binary digit per side. */
export const placesFor = (number: number, sides: Sides): number => Math.ceil(Math.log2(number + 1) / sides);

/** The number in binary, the digits of least weight next to the long pin: side s of place p counts 2^(sides (p - 1) + s); a pin stands for each 1. */
export function codePins(number: number, sides: Sides): CodePin[] {
  const pins: CodePin[] = [];
  for (let place = 1; place <= placesFor(number, sides); place++) {
    for (let side = 0; side < sides; side++) {
      const counts = 2 ** (sides * (place - 1) + side);
      if (Math.floor(number / counts) % 2 === 1) pins.push({ place, side, counts });
    }
  }
  return pins;
}

/** How a number is read from its pins, in words. */
export function readingOf(number: number, sides: Sides, pitchMm: number): string {
  const beside =
    sides === 2 ? ['on the side of the long pin', 'opposite'] : ['in line with the long pin', 'to its right', 'opposite', 'to its left'];
  const weights = beside.map((where, side) => `${2 ** side} ${where}`).join(', ');
  const start = sides === 2 ? 'Start at the long pin' : 'Look along the strut from the long pin, that pin upright';
  const sum = codePins(number, sides).map(({ counts }) => counts);
  const total = sum.length === 1 ? `${number}` : `${sum.join(' + ')} = ${number}`;
  return `${start}; places follow ${shown(pitchMm)} mm apart. At the first a pin counts ${weights}; at each further place ${2 ** sides} times as much. Add up the pins: ${total}.`;
}
