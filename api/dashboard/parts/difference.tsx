import { useState } from 'preact/hooks';
import type { Answer } from '../client.ts';
import { useResource } from '../use-resource.ts';
import { leaf } from '../words.ts';
import { Shown } from './shown.tsx';

type Found = Answer<'/v1/designs/{id}/versions/{number}/difference'>;

/** What differs between the parameter sets of two versions; the two newest until others are chosen. */
export function Difference({ designId, numbers }: { designId: string; numbers: readonly number[] }) {
  const [[newer, older], setPair] = useState<readonly [number, number]>([numbers[0], numbers[1]]);
  const difference = useResource<Found>(newer === older ? null : `/v1/designs/${designId}/versions/${older}/difference?with=${newer}`);
  const choice = (name: string, value: number, onChange: (value: number) => void) => (
    <label>
      {name}
      <select value={value} onChange={(event) => onChange(Number(event.currentTarget.value))}>
        {numbers.map((each) => (
          <option key={each}>{each}</option>
        ))}
      </select>
    </label>
  );
  return (
    <>
      <div class="row">
        {choice('from version', older, (value) => setPair([newer, value]))}
        {choice('to version', newer, (value) => setPair([value, older]))}
      </div>
      {newer === older ? (
        <p class="quiet">Choose two versions.</p>
      ) : (
        <Shown of={difference}>
          {({ parameters: { differing } }) =>
            differing.length === 0 ? (
              <p class="quiet">Nothing differs.</p>
            ) : (
              <ul>
                {differing.map(({ path, left, right }) => (
                  <li key={path}>
                    <code>{path}</code> {leaf(left)} → {leaf(right)}
                  </li>
                ))}
              </ul>
            )
          }
        </Shown>
      )}
    </>
  );
}
