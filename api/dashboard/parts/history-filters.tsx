import { useState } from 'preact/hooks';
import { QUANTITIES, type Quantity } from '../../../openapi/quantities.ts';
import { useFilter } from '../use-filter.ts';
import { axisWords, label } from '../words.ts';

/** What the list sorts by. */
export const COLUMNS = ['massG', 'circumferenceMm', 'stiffnessNPerMm', 'restitution', 'totalPerPart'] as const satisfies Quantity[];

const ANY = [{ value: '', text: 'any' }];
const SORTS = [
  { value: '-createdAt', text: 'newest first' },
  ...COLUMNS.flatMap((each) => [
    { value: each, text: `least ${label(each).name}` },
    { value: `-${each}`, text: `most ${label(each).name}` },
  ]),
];

/** The quantity of the first band that a query has. */
const bandOf = (query: URLSearchParams): Quantity =>
  QUANTITIES.find((each) => query.has(`${each}.gte`) || query.has(`${each}.lte`)) ?? 'massG';

/** What the history is filtered by, begun from a query; `onChange` is told the new one once typing pauses. */
export function HistoryFilters({ query, onChange }: { query: URLSearchParams; onChange: (filter: string) => void }) {
  const [band, setBand] = useState(bandOf(query));
  const read = useFilter(onChange);
  const text = (name: string, shown: string, more: object = {}) => (
    <label>
      {shown}
      <input name={name} defaultValue={query.get(name) ?? ''} autocomplete="off" {...more} />
    </label>
  );
  const choice = (name: string, shown: string, of: readonly { value: string; text: string }[]) => (
    <label>
      {shown}
      <select name={name} defaultValue={query.get(name) ?? of[0].value}>
        {of.map(({ value, text: words }) => (
          <option key={value} value={value} selected={value === (query.get(name) ?? of[0].value)}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
  const named = (each: string) => ({ value: each, text: each });
  return (
    <form class="card" onInput={read} onSubmit={(event) => event.preventDefault()} aria-label="Filters">
      <fieldset>
        <legend>Show</legend>
        {text('q', 'words of names and notes', { type: 'search', maxLength: 200 })}
        {text('tag', 'tag')}
        {text('material', 'material')}
        {text('engineVersion', 'engine version', { size: 8 })}
        {choice('status', 'state', [...ANY, ...['done', 'running', 'queued', 'failed', 'cancelled'].map(named)])}
        {choice('verdict', 'can it be made', [...ANY, ...['pass', 'warn', 'fail'].map(named)])}
      </fieldset>
      <fieldset>
        <legend>Within</legend>
        <label>
          quantity
          <select onChange={(event) => setBand(event.currentTarget.value as Quantity)}>
            {QUANTITIES.map((each) => (
              <option key={each} value={each} selected={each === band}>
                {axisWords(each)}
              </option>
            ))}
          </select>
        </label>
        {text(`${band}.gte`, 'from', { key: `${band}.gte`, inputMode: 'decimal', size: 8 })}
        {text(`${band}.lte`, 'to', { key: `${band}.lte`, inputMode: 'decimal', size: 8 })}
        {choice('sort', 'in the order of', SORTS)}
      </fieldset>
    </form>
  );
}
