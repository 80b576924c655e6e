import type { Reference } from '../../openapi/index.ts';
import type { Bounced } from './bounce.ts';
import { type Brief, CONDITIONS } from './brief.ts';
import type { Finished } from './comparison.ts';
import { fixed, heading, wrap } from './text.ts';

/** Who asks for what. */
export function introduction({ targets }: Reference, { massG, circumferenceMm }: Brief): string[] {
  const published = targets.find(({ quantity }) => quantity === 'massG');
  return [
    ...heading('Harbour Schools League: a size 1 training ball that never needs a pump'),
    ...wrap(
      'A schools’ handball league loses lessons to flat balls. It asks for one that is printed as a lattice of struts: ' +
        'as large and as heavy as a size 1 ball, with nothing in it to inflate. What would it take, and would it bounce?',
    ),
    '',
    `  mass           ${massG.target} g, give or take ${massG.max - massG.target} g (published: ${published?.min} to ${published?.max} g)`,
    `  circumference  ${circumferenceMm.min} to ${circumferenceMm.max} mm, as published`,
    `  material       ${CONDITIONS.material}, a generic soft TPU powder`,
    `  build volume   ${CONDITIONS.buildVolume}, an invented sintering chamber`,
    '  lattice        Goldberg tiling GP(3,3), two layers joined by posts, equal struts within a layer',
    '',
  ];
}

const PRINTABLE = {
  pass: 'and it can be printed',
  warn: 'and it can be printed, with the warnings above',
  fail: 'but it cannot be printed as it is',
};

/** The answer in one sentence. */
export function conclusion(versions: readonly Finished[], { result: { rebound } }: Bounced): string[] {
  const { version, result } = versions.at(-1)!;
  return [
    '',
    ...wrap(
      `Version ${version.number} is the ball that was asked for: ${fixed(result.massProperties.massG, 1)} g, ` +
        `${fixed(result.geometry.circumferenceMm, 1)} mm round, ${PRINTABLE[result.printability.verdict]}; dropped from ` +
        `${fixed(rebound?.dropHeightMm ?? 0, 0)} mm it comes back to some ${fixed(rebound?.reboundHeightMm?.mean ?? 0, 0)} mm, by computation.`,
    ),
  ];
}
