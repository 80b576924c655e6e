import { useEffect, useState } from 'preact/hooks';
import { type Answer, ask, type Refused } from '../client.ts';
import { useResource } from '../use-resource.ts';
import { label, number } from '../words.ts';
import { Choice } from './choices.tsx';
import type { Members } from './origin.tsx';
import { Plotted } from './plotted.tsx';
import { Problem, State } from './shown.tsx';

type Summary = Answer<'/v1/evaluations'>['items'][number];
type Quantity = keyof Summary['quantities'];
type Wanted = 'least' | 'most';

const PAGE = 200;
/** More dots than these say nothing more; the best are drawn beside them. */
const MOST = 2000;
const MOST_LISTED = 100;
const AXES: readonly Quantity[] = [
  'massG',
  'stiffnessNPerMm',
  'restitution',
  'peakForceN',
  'cyclesToFailure',
  'totalPerPart',
  'totalHours',
];

/** Two quantities of the evaluations of a batch or search against each other; those that nothing beats in both, by the service, are listed to be picked. */
export function Pareto({ of, done }: { of: Members; done: number }) {
  const [items, setItems] = useState<Summary[]>([]);
  const [error, setError] = useState<Refused | null>(null);
  const [x, setX] = useState<Quantity>('massG');
  const [y, setY] = useState<Quantity>('totalPerPart');
  const [lessX, setLessX] = useState<Wanted>('least');
  const [lessY, setLessY] = useState<Wanted>('least');
  useEffect(() => {
    let gone = false;
    finished(of).then((found) => gone || setItems(found), setError);
    return () => {
      gone = true;
    };
  }, [of, done]);
  const wish = (wanted: Wanted, quantity: Quantity) => `${wanted === 'least' ? 'minimise' : 'maximise'}=${quantity}`;
  const front = useResource<Answer<'/v1/evaluations/front'>>(
    done > 0 && x !== y ? `/v1/evaluations/front?${of}&${wish(lessX, x)}&${wish(lessY, y)}` : null,
    { again: done },
  );
  const pointOf = (each: Summary) => {
    const [a, b] = [each.quantities[x], each.quantities[y]];
    return typeof a === 'number' && typeof b === 'number' ? [{ each, x: a, y: b }] : [];
  };
  const best = front.data?.items.flatMap(pointOf) ?? [];
  const unbeaten = new Set(best.map(({ each }) => each.id));
  const beaten = items.filter(({ id }) => !unbeaten.has(id)).flatMap(pointOf);
  const drawn = [
    ...best.map((point) => ({ x: point.x, y: point.y, best: true })),
    ...beaten.map((point) => ({ x: point.x, y: point.y, best: false })),
  ];
  const named = (quantity: string) => [label(quantity).name, label(quantity).unit].filter(Boolean).join(', ');
  const wanted = AXES.map((value) => ({ value, text: label(value).name }));
  return (
    <section class="card">
      <h2>Two quantities against each other</h2>
      <div class="row">
        <Choice name="across" value={x} of={wanted} onChange={(value) => setX(value as Quantity)} />
        <Choice name="wanted across" value={lessX} of={['least', 'most']} onChange={(value) => setLessX(value as Wanted)} />
        <Choice name="up" value={y} of={wanted} onChange={(value) => setY(value as Quantity)} />
        <Choice name="wanted up" value={lessY} of={['least', 'most']} onChange={(value) => setLessY(value as Wanted)} />
      </div>
      {error && <Problem error={error} />}
      {front.error && <Problem error={front.error} />}
      {drawn.length === 0 ? (
        <p class="quiet">No evaluation here has both numbers yet.</p>
      ) : (
        <div class="beside">
          <Plotted
            of={`${x} ${y} ${lessX} ${lessY} ${drawn.length} ${best.length}`}
            draw={(plots) => plots.paretoPlot(drawn, { x: named(x), y: named(y), wanted: { x: lessX, y: lessY } })}
          />
          <div>
            <h3>Nothing beats these in both</h3>
            {front.data && (
              <p class="quiet">
                {front.data.count} of {front.data.lookedAt}
                {front.data.complete ? '' : ', and there are more than are looked at'}
                {front.data.lookedAt > drawn.length && `; ${drawn.length} are drawn`}
              </p>
            )}
            <ul class="plain">
              {best.slice(0, MOST_LISTED).map((point) => (
                <li key={point.each.id}>
                  <a href={`#/evaluations/${point.each.id}?${of}`}>
                    {[`${number(point.x)} ${label(x).unit}`, `${number(point.y)} ${label(y).unit}`].map((each) => each.trim()).join(', ')}
                  </a>{' '}
                  {point.each.verdict && <State is={point.each.verdict} />}
                </li>
              ))}
            </ul>
          </div>
        </div>
      )}
    </section>
  );
}

/** The newest finished evaluations of an undertaking, page by page, up to MOST. */
async function finished(of: string): Promise<Summary[]> {
  const items: Summary[] = [];
  let cursor: string | null = '';
  while (cursor !== null && items.length < MOST) {
    const page: Answer<'/v1/evaluations'> = (
      await ask<Answer<'/v1/evaluations'>>(`/v1/evaluations?${of}&status=done&limit=${PAGE}${cursor && `&cursor=${cursor}`}`)
    ).body!;
    items.push(...page.items);
    cursor = page.nextCursor;
  }
  return items;
}
