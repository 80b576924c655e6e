import type { Answer } from '../client.ts';
import { useResource } from '../use-resource.ts';

interface ChoiceProps {
  name: string;
  value: string;
  of: readonly (string | { value: string; text: string })[];
  onChange: (value: string) => void;
}

export function Choice({ name, value, of, onChange }: ChoiceProps) {
  return (
    <label>
      {name}
      <select value={value} onChange={(event) => onChange(event.currentTarget.value)}>
        {of.map((each) => {
          const option = typeof each === 'string' ? { value: each, text: each } : each;
          return (
            <option key={option.value} value={option.value}>
              {option.text}
            </option>
          );
        })}
      </select>
    </label>
  );
}

/** The keys of the records of a kind. */
export function Keys({ name, from, value, onChange }: Omit<ChoiceProps, 'of'> & { from: string }) {
  const records = useResource<Answer<'/v1/materials'>>(`${from}?limit=200`);
  const keys = records.data?.items.map(({ key }) => key) ?? [value];
  return <Choice name={name} value={value} of={name === 'reference' ? ['', ...keys] : keys} onChange={onChange} />;
}

/** A version of any design; `onChange` is told its id. */
export function VersionChoice({
  design,
  version,
  onChange,
}: {
  design: string;
  version: string;
  onChange: (of: { design: string; version: string }) => void;
}) {
  const designs = useResource<Answer<'/v1/designs'>>('/v1/designs?limit=200');
  const versions = useResource<Answer<'/v1/designs/{id}/versions'>>(design ? `/v1/designs/${design}/versions?limit=200` : null);
  const none = { value: '', text: 'choose …' };
  return (
    <>
      <Choice
        name="design"
        value={design}
        of={[none, ...(designs.data?.items ?? []).map(({ id, name }) => ({ value: id, text: name }))]}
        onChange={(chosen) => onChange({ design: chosen, version: '' })}
      />
      <Choice
        name="version"
        value={version}
        of={[none, ...(versions.data?.items ?? []).map(({ id, number }) => ({ value: id, text: String(number) }))]}
        onChange={(chosen) => onChange({ design, version: chosen })}
      />
    </>
  );
}
