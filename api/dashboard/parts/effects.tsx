import { useState } from 'preact/hooks';
import { QUANTITIES, type Quantity } from '../../../openapi/quantities.ts';
import type { Answer } from '../client.ts';
import { useResource } from '../use-resource.ts';
import { axisWords } from '../words.ts';
import { Choice } from './choices.tsx';
import { Plotted } from './plotted.tsx';
import { Shown } from './shown.tsx';

const NAMED = QUANTITIES.map((value) => ({ value, text: axisWords(value) }));

/** How a quantity follows each parameter of a batch by itself; looked at again whenever more are done. */
export function Effects({ batchId, done }: { batchId: string; done: number }) {
  const [quantity, setQuantity] = useState<Quantity>('massG');
  const effects = useResource<Answer<'/v1/batches/{id}/effects'>>(`/v1/batches/${batchId}/effects?quantity=${quantity}`, { again: done });
  return (
    <section class="card">
      <h2>What each parameter does</h2>
      <div class="row">
        <Choice name="to" value={quantity} of={NAMED} onChange={(value) => setQuantity(value as Quantity)} />
      </div>
      <Shown of={effects}>
        {(found) => (
          <Plotted
            of={found}
            draw={({ effectsPlot, levelName }) => {
              const parameters = found.parameters.map(({ levels, ...rest }) => ({
                ...rest,
                levels: levels.map((level) => ({ ...level, name: levelName(level) })),
              }));
              return effectsPlot({ mean: found.mean, parameters }, axisWords(found.quantity));
            }}
          />
        )}
      </Shown>
    </section>
  );
}
