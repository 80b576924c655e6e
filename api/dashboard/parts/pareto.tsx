import { useEffect, useState } from 'preact/hooks';
import { front } from '../../../worker/engine/front/index.ts';
import { type Answer, ask, type Refused } from '../client.ts';
import { label, number } from '../words.ts';
import { Choice } from './choices.tsx';
import { Plotted } from './plotted.tsx';
import { Problem, State } from './shown.tsx';

type Summary = Answer<'/v1/evaluations'>['items'][number];
type Quantity = keyof Summary['quantities'];
type Wanted = 'least' | 'most';

const PAGE = 200;
/** More dots than these say nothing more. */
const MOST = 2000;
const AXES: readonly Quantity[] = [
  'massG',
  'stiffnessNPerMm',
  'restitution',
  'peakForceN',
  'cyclesToFailure',
  'totalPerPart',
  'totalHours',
];

/** Two quantities of the evaluations of a batch or search against each other; those that nothing beats in both are listed to be picked. */
export function Pareto({ of, done }: { of: `batchId=${string}` | `searchId=${string}`; done: number }) {
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
  const points = items.flatMap((each) => {
    const [a, b] = [each.quantities[x], each.quantities[y]];
    return typeof a === 'number' && typeof b === 'number' ? [{ each, x: a, y: b }] : [];
  });
  const [signX, signY] = [lessX === 'least' ? 1 : -1, lessY === 'least' ? 1 : -1];
  const best = new Set(front(points.map((point) => [signX * point.x, signY * point.y])).map((k) => points[k]));
  const drawn = points.map((point) => ({ x: point.x, y: point.y, best: best.has(point) }));
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
      {points.length === 0 ? (
        <p class="quiet">No evaluation here has both numbers yet.</p>
      ) : (
        <div class="beside">
          <Plotted
            of={`${x} ${y} ${lessX} ${lessY} ${points.length}`}
            draw={(plots) => plots.paretoPlot(drawn, { x: named(x), y: named(y), wanted: { x: lessX, y: lessY } })}
          />
          <div>
            <h3>Nothing beats these in both</h3>
            <ul class="plain">
              {[...best]
                .sort((a, b) => a.x - b.x)
                .map((point) => (
                  <li key={point.each.id}>
                    <a href={`#/evaluations/${point.each.id}`}>
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

/** The finished evaluations of an undertaking, page by page, up to MOST. */
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
