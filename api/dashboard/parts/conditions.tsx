import type { EvaluationRequest } from '../../../openapi/index.ts';
import { Choice, Keys } from './choices.tsx';

/** What an evaluation is made of and in, what it is compared with, and how far it goes. */
export interface Conditions {
  material: string;
  buildVolume: string;
  /** '': none. */
  reference: string;
  depth: 'geometry' | 'static' | 'full';
}
export const USUAL: Conditions = { material: 'tpu-soft', buildVolume: 'medium-polymer', reference: 'handball-size-1', depth: 'full' };

/** Depths are asked for in words. */
const DEPTHS = [
  { value: 'geometry', text: 'shape and cost' },
  { value: 'static', text: 'and pressed' },
  { value: 'full', text: 'and dropped' },
];

/** `wanted`: which of the four are asked for. */
export function ConditionFields<T extends Conditions>({
  of,
  onChange,
  wanted = ['material', 'buildVolume', 'reference', 'depth'],
}: {
  of: T;
  onChange: (changed: T) => void;
  wanted?: readonly (keyof Conditions)[];
}) {
  const to = (name: keyof Conditions) => (value: string) => onChange({ ...of, [name]: value });
  return (
    <fieldset>
      <legend>Made of, made in, compared with</legend>
      {wanted.includes('material') && <Keys name="material" from="/v1/materials" value={of.material} onChange={to('material')} />}
      {wanted.includes('buildVolume') && (
        <Keys name="build volume" from="/v1/build-volumes" value={of.buildVolume} onChange={to('buildVolume')} />
      )}
      {wanted.includes('reference') && <Keys name="reference" from="/v1/references" value={of.reference} onChange={to('reference')} />}
      {wanted.includes('depth') && <Choice name="computed" value={of.depth} of={DEPTHS} onChange={to('depth')} />}
    </fieldset>
  );
}

/** As they are posted. */
export const conditionsOf = ({ material, buildVolume, reference, depth }: Conditions) =>
  ({ material, buildVolume, ...(reference && { reference }), tests: { depth } }) as Omit<EvaluationRequest, 'versionId' | 'parameterSet'>;
