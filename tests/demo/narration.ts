import type { Reference } from '../../openapi/index.ts';
import { CONDITIONS, INVENTED, wanted } from './brief.ts';
import type { Finished } from './comparison.ts';
import type { Learnt } from './learning.ts';
import type { Compared } from './predicted.ts';
import { fixed, heading, wrap } from './text.ts';

/** Who asks for what. */
export function introduction(original: Reference, reference: Reference): string[] {
  const [published] = wanted(original, 'massG');
  const [mass, size, stiffness, rebound] = wanted(reference, 'massG', 'circumferenceMm', 'stiffnessNPerMm', 'reboundHeightMm');
  const band = ({ min = 0, max = 0 }: typeof mass, decimals: number) => `${fixed(min, decimals)} to ${fixed(max, decimals)}`;
  return [
    ...heading('Harbour Schools League: a size 1 training ball that never needs a pump'),
    ...wrap(
      'A schools’ handball league loses lessons to flat balls. It asks for one that is printed as a lattice of struts: ' +
        'as large and as heavy as a size 1 ball, as firm in the hand, with nothing in it to inflate. What would it take, and would it bounce?',
    ),
    '',
    `  mass           ${band(mass, 0)} g (published: ${band(published, 0)} g)`,
    `  circumference  ${band(size, 0)} mm, as published`,
    `  stiffness      ${band(stiffness, 2)} N/mm, pressed to a tenth of its diameter`,
    `  rebound        ${band(rebound, 0)} mm from ${reference.dropHeightMm} mm`,
    `  material       ${CONDITIONS.material}, a generic soft TPU powder`,
    `  build volume   ${CONDITIONS.buildVolume}, an invented sintering chamber`,
    '  lattice        Goldberg tiling GP(3,3), two layers joined by posts, equal struts within a layer',
    '',
    ...wrap(
      'No rule of handball gives a stiffness, and no rebound of handballs is published: the league pressed and dropped a ball of its own ' +
        `(the readings are ${INVENTED}).`,
    ),
    '',
  ];
}

/** What the calibration did for the predictions. */
export function whyCloser(before: number, after: number, { result: { estimates } }: Learnt): string[] {
  const value = (name: string) => estimates.find(({ unknown }) => unknown === name)!.value;
  const growth = (value('growthInLayerMm') + value('growthUprightMm')) / 2;
  return wrap(
    `The predictions of version 3 missed what was measured by ${fixed(before, 1)} % (root mean square), those of version 4 miss it by ${fixed(after, 1)} %. ` +
      `For version 3 the material was that of its record. Its prints told that struts print about ${fixed(growth, 2)} mm thicker than drawn, ` +
      `of a powder ${fixed(value('densityFactor'), 3)} times as dense and ${fixed(value('modulusFactor'), 2)} times as stiff; ` +
      'version 4 was searched and predicted with that.',
    '  ',
  );
}

const PRINTABLE = {
  pass: 'It can be printed',
  warn: 'It can be printed, with the warnings above',
  fail: 'But it cannot be printed as it is',
};

/** The answer in a few words. */
export function conclusion({ version, result }: Finished, measured: readonly Compared[]): string[] {
  const mean = (name: string, decimals: number) => {
    const found = measured.find(({ quantity }) => quantity === name);
    return fixed(found?.measured.mean ?? Number.NaN, decimals);
  };
  const { rebound } = result;
  return [
    '',
    ...wrap(
      `Version ${version.number} is the ball that was asked for: ${mean('massG', 1)} g, ${mean('circumferenceMm', 1)} mm round and ` +
        `${mean('stiffnessNPerMm', 2)} N/mm firm, as "measured"; dropped from ${fixed(rebound?.dropHeightMm ?? 0, 0)} mm it comes back to ` +
        `some ${fixed(rebound?.reboundHeightMm?.mean ?? 0, 0)} mm by computation, to ${mean('reboundHeightMm', 0)} mm as "measured". ` +
        `${PRINTABLE[result.printability.verdict]}.`,
    ),
  ];
}
