import { z } from 'zod';
import { between } from './common.ts';

export const modulusMPa = between(0.001, 1e6);
export const lossFactor = between(0, 2);
/** From the cold of space to what no polymer survives. */
export const temperatureC = between(-200, 400);

/** One term of a generalised Maxwell model: how strong its branch is, and how fast the branch gives way. */
const term = z
  .strictObject({
    timeS: between(1e-9, 1e6).meta({ description: 'Relaxation time of the branch' }),
    ratio: between(0, 1000).optional().meta({ description: 'Modulus of the branch over the long-term modulus' }),
    modulusMPa: modulusMPa.optional().meta({ description: 'Modulus of the branch itself' }),
  })
  .meta({ id: 'RelaxationTerm', description: 'E(t) = long-term modulus + sum of branch moduli * exp(-t / timeS); ratio or modulusMPa' });
export type RelaxationTerm = z.infer<typeof term>;

const rowAtTemperature = z.strictObject({ temperatureC, modulusMPa, lossFactor: lossFactor.optional() }).meta({
  id: 'MaterialAtTemperature',
  description: 'Storage modulus and loss factor at referenceHz; without the factor: that of the record',
});
export type MaterialAtTemperature = z.infer<typeof rowAtTemperature>;

/** How a material answers in time, at temperatures and by direction; each null or absent where it is not known. */
export const behaviour = {
  lossFactor: lossFactor.nullish().meta({ description: 'tan delta, taken as constant about referenceHz; this or relaxation' }),
  relaxation: z
    .array(term)
    .min(1)
    .max(20)
    .nullish()
    .meta({ description: 'Measured relaxation terms instead of a loss factor; modulusMPa stays the storage modulus at referenceHz' }),
  temperatureC: temperatureC.nullish().meta({ description: 'Temperature the values hold for; null: not stated' }),
  byTemperature: z
    .array(rowAtTemperature)
    .min(2)
    .max(50)
    .nullish()
    .meta({ description: 'From cold to warm. tests.temperatureC picks: between two rows log(modulus) and the loss factor run straight' }),
  directionFactors: z
    .strictObject({ upright: between(0.05, 5), inLayer: between(0.05, 5) })
    .nullish()
    .meta({
      description:
        'Factor on the modulus of struts along the build axis (z) and of those that lie in a layer; between them it runs with cos^2 of the angle to the axis',
    }),
};

interface Behaviour {
  modulusMPa: number;
  referenceHz: number;
  lossFactor?: number | null;
  relaxation?: RelaxationTerm[] | null;
  byTemperature?: MaterialAtTemperature[] | null;
}
type Issue = (path: (string | number)[], message: string) => void;

/** What single fields cannot tell: a loss factor or terms, terms of one kind, a long-term modulus that is left, rows that rise. */
export function checkBehaviour(value: Behaviour, issue: Issue): void {
  const { lossFactor: factor, relaxation: terms, byTemperature: rows } = value;
  const lossy = factor !== null && factor !== undefined;
  if (lossy && terms) issue(['relaxation'], 'stands beside lossFactor; allowed: one of lossFactor and relaxation');
  if (!lossy && !terms) issue(['lossFactor'], 'required: a number, at least 0, at most 2, unless relaxation is given');
  if (terms) checkTerms(value, terms, issue);
  if (rows) checkRows(value, rows, issue);
}

function checkTerms({ modulusMPa: storage, referenceHz }: Behaviour, terms: RelaxationTerm[], issue: Issue): void {
  for (const [k, { ratio, modulusMPa: modulus }] of terms.entries()) {
    if ((ratio === undefined) === (modulus === undefined))
      issue(['relaxation', k], 'needs either ratio or modulusMPa; allowed: one of the two');
    else if ((ratio === undefined) !== (terms[0].ratio === undefined))
      issue(['relaxation', k], 'is given in another way than the first term; allowed: ratio in all terms, or modulusMPa in all');
  }
  const inBranches = branchStorageMPa(terms, referenceHz);
  if (inBranches >= storage) {
    const message = `the branches alone hold ${inBranches.toPrecision(4)} MPa at referenceHz; allowed: less than modulusMPa, which is ${storage}`;
    issue(['relaxation'], message);
  }
}

/** Storage modulus of branches given in MPa at a frequency: sum of E x^2 / (1 + x^2), x = 2 pi f time. */
export const branchStorageMPa = (terms: readonly RelaxationTerm[], hz: number): number =>
  terms.reduce((sum, { timeS, modulusMPa: modulus = 0 }) => {
    const x = 2 * Math.PI * hz * timeS;
    return sum + (modulus * x * x) / (1 + x * x);
  }, 0);

function checkRows({ relaxation: terms }: Behaviour, rows: MaterialAtTemperature[], issue: Issue): void {
  if (terms?.some(({ modulusMPa: modulus }) => modulus !== undefined))
    issue(['byTemperature'], 'stands beside relaxation terms in MPa, which hold at one temperature; allowed: terms by ratio');
  for (const [k, { temperatureC: at, lossFactor: factor }] of rows.entries()) {
    if (k > 0 && at <= rows[k - 1].temperatureC)
      issue(['byTemperature', k, 'temperatureC'], `does not rise; allowed: more than ${rows[k - 1].temperatureC}`);
    if (terms && factor !== undefined) issue(['byTemperature', k, 'lossFactor'], 'stands beside relaxation; allowed: leave it out');
  }
}
