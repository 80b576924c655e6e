import { useState } from 'preact/hooks';
import { QUANTITIES } from '../../../openapi/quantities.ts';
import { axisWords } from '../words.ts';
import { Choice } from './choices.tsx';
import { Fetched } from './plotted.tsx';

const NAMED = QUANTITIES.map((value) => ({ value, text: axisWords(value) }));

/** How a quantity follows each parameter of a batch by itself. */
export function Effects({ batchId, done }: { batchId: string; done: number }) {
  const [quantity, setQuantity] = useState<string>('massG');
  return (
    <section class="card">
      <h2>What each parameter does</h2>
      <Choice name="to" value={quantity} of={NAMED} onChange={setQuantity} />
      <Fetched url={`/v1/batches/${batchId}/effects.svg?quantity=${quantity}`} of={done} />
    </section>
  );
}
