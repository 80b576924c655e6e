import type { ParameterSetInput } from '../../../openapi/index.ts';
import { at, deeper, shallower, withValue } from '../typed-set.ts';
import { Choice } from './choices.tsx';
import { NumberField } from './fields.tsx';

interface SetFieldsProps {
  set: ParameterSetInput;
  errors: readonly { pointer: string; detail: string }[];
  onChange: (changed: ParameterSetInput) => void;
}

/** The fields of a parameter set, each with what is wrong with it. */
export function SetFields({ set, errors, onChange }: SetFieldsProps) {
  const field = (path: string, name: string, unit = 'mm') => (
    <NumberField
      name={name}
      unit={unit}
      value={at(set, path)}
      fault={errors.find(({ pointer }) => pointer === `/${path.replaceAll('.', '/')}`)?.detail}
      onChange={(value) => onChange(withValue(set, path, value))}
    />
  );
  return (
    <>
      <fieldset>
        <legend>Size and cells</legend>
        {field('carrier.outsideDiameterMm', 'outside diameter')}
        {field('tiling.m', 'cells, m', '')}
        {field('tiling.n', 'cells, n', '')}
        <Choice
          name="cells evened by"
          value={set.tiling.relaxation ?? 'none'}
          of={['none', 'equal-edges', 'equal-areas']}
          onChange={(value) => onChange(withValue(set, 'tiling.relaxation', value))}
        />
      </fieldset>
      {set.layers.map((_, k) => (
        <fieldset key={k}>
          <legend>{k === 0 ? 'Outer layer' : `Layer ${k + 1}`}</legend>
          {field(`layers.${k}.strutDiameterMm`, 'strut diameter')}
          {k > 0 && field(`layers.${k}.depthMm`, 'depth')}
        </fieldset>
      ))}
      <div class="row">
        <button type="button" disabled={set.layers.length >= 4} onClick={() => onChange(deeper(set))}>
          One layer more
        </button>
        <button type="button" disabled={set.layers.length <= 1} onClick={() => onChange(shallower(set))}>
          One layer less
        </button>
      </div>
      {set.layers.length > 1 && (
        <fieldset>
          <legend>Links between layers</legend>
          <Choice
            name="pattern"
            value={set.links?.pattern ?? 'posts'}
            of={['posts', 'braced']}
            onChange={(value) => onChange(withValue(set, 'links.pattern', value))}
          />
          {field('links.strutDiameterMm', 'strut diameter')}
        </fieldset>
      )}
    </>
  );
}
