import { type Filter, QUANTITIES, type Quantity, type Sort } from '../../openapi/index.ts';
import type { HistoryQuery } from '../../prisma/index.ts';
import { stream } from '../engine/probability/index.ts';
import { type MadeHistory, OLD_ENGINE, RARE_MATERIAL, TAGS, WORDS } from './history-rows.ts';

export type Asked = Omit<HistoryQuery, 'cursor'>;
export interface Question {
  readonly name: string;
  /** The k-th time it is asked: of another design, night or band each time, the same ones in every run. */
  readonly asked: (k: number) => Asked;
}

const LIMIT = 50;
const DAY_MS = 86_400_000;
const by = (name: string): Sort => ({ by: name.replace('-', '') as Sort['by'], descending: name.startsWith('-') });

/** Every filter of the history with its sort, alone, both ways, and combinations that a team asks. */
export function questionsOf(made: MadeHistory): Question[] {
  const question = (name: string, asked: (draw: () => number) => Omit<Asked, 'limit'>): Question => ({
    name,
    asked: (k) => {
      const next = stream(1, k);
      return { limit: LIMIT, ...asked(() => next() / 2 ** 32) };
    },
  });
  const percentile = (quantity: Quantity, per: number) => made.percentiles[quantity][Math.round(per)];
  const one = (all: readonly string[], draw: () => number) => all[Math.floor(draw() * all.length)];
  const over = (quantity: Quantity, per: number): Filter => ({ quantity, op: 'gte', value: percentile(quantity, per) });
  const under = (quantity: Quantity, per: number): Filter => ({ quantity, op: 'lte', value: percentile(quantity, per) });
  /** From one percentile to another, `wide` apart. */
  const band = (quantity: Quantity, wide: number, draw: () => number): Filter[] => {
    const from = draw() * (100 - wide);
    return [over(quantity, from), under(quantity, from + wide)];
  };

  /** One of the first days, which every history that is made has. */
  const day = (draw: () => number) => {
    const from = Date.UTC(2026, 0, 1) + 3 * DAY_MS * draw();
    return { createdFrom: new Date(from).toISOString(), createdTo: new Date(from + DAY_MS).toISOString() };
  };

  const alone = [
    ...QUANTITIES.flatMap((each) =>
      [each, `-${each}`].map((sort) => question(sort, (draw) => ({ filters: band(each, 10, draw), sort: by(sort) }))),
    ),
    ...QUANTITIES.map((each) => question(`${each}, newest first`, (draw) => ({ filters: band(each, 1 + 20 * draw(), draw) }))),
    ...(['pass', 'warn', 'fail'] as const).map((verdict) => question(`verdict ${verdict}`, () => ({ verdict }))),
    ...(['done', 'failed', 'cancelled', 'running'] as const).map((status) => question(`status ${status}`, () => ({ status }))),
    ...['tpu-soft', RARE_MATERIAL].map((material) => question(`material ${material}`, () => ({ material }))),
    question('engine version', () => ({ engineVersion: OLD_ENGINE })),
    ...Object.entries(WORDS).map(([name, words]) => question(`words of a ${name}`, () => ({ words }))),
    ...Object.entries(TAGS).map(([name, tag]) => question(`${name} tag`, () => ({ tag }))),
    question('design', (draw) => ({ designId: one(made.designs, draw) })),
    question('version', (draw) => ({ versionId: one(made.versions, draw) })),
    question('batch', (draw) => ({ undertakingIds: [one(made.undertakings, draw)] })),
    ...['createdAt', '-createdAt', '-massG'].map((sort) => question(`a day, ${sort}`, (draw) => ({ ...day(draw), sort: by(sort) }))),
    question('everything, oldest first', () => ({ sort: by('createdAt') })),
  ];
  const combined = [
    question('within the mass rule, bounces highest', (draw) => ({
      status: 'done',
      filters: band('massG', 8, draw),
      sort: by('-reboundHeightMm'),
    })),
    question('cheapest of a size that prints', (draw) => ({
      verdict: 'pass',
      filters: band('outsideDiameterMm', 5, draw),
      sort: by('totalPerPart'),
    })),
    question('softest landing among the light', (draw) => ({ filters: [under('massG', 10 + 30 * draw())], sort: by('peakForceN') })),
    question('what a night learnt', (draw) => ({
      undertakingIds: [one(made.undertakings, draw)],
      status: 'done',
      sort: by('-restitution'),
    })),
    question('lightest of a design that prints', (draw) => ({ designId: one(made.designs, draw), verdict: 'pass', sort: by('massG') })),
    question('newest with a tag that print', () => ({ tag: TAGS.some, verdict: 'pass' })),
    question('most per build in short builds', (draw) => ({
      filters: [under('totalHours', 20 + 40 * draw()), over('partsPerBuild', 50)],
      sort: by('totalPerPart'),
    })),
    question('stiff ones that last longest', (draw) => ({ filters: band('stiffnessNPerMm', 10, draw), sort: by('-cyclesToFailure') })),
    question('balanced ones that let powder out', (draw) => ({
      filters: [under('centreOfMassOffsetMm', 5 + 10 * draw()), under('inertiaSpreadPct', 20), over('minCellOpeningMm', 60)],
      sort: by('massG'),
    })),
    question('softest of a material', (draw) => ({ material: 'tpu-firm', filters: band('massG', 10, draw), sort: by('stiffnessNPerMm') })),
    question('cheapest with these words', () => ({ words: WORDS.note, sort: by('totalPerPart') })),
    question('newest of a size that do not print', (draw) => ({ verdict: 'fail', filters: band('circumferenceMm', 10, draw) })),
  ];
  return [...alone, ...combined.map((each) => ({ ...each, name: `"${each.name}"` }))];
}
