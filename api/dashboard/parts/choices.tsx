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

type Design = Answer<'/v1/designs'>['items'][number];
type Version = Answer<'/v1/designs/{id}/versions'>['items'][number];
/** The same list as long as there is nothing else. */
const NONE: never[] = [];

export const useDesigns = (): readonly Design[] => useResource<Answer<'/v1/designs'>>('/v1/designs?limit=200').data?.items ?? NONE;

/** The versions of a design, the newest first; none of no design. */
export const useVersions = (design: string): readonly Version[] =>
  useResource<Answer<'/v1/designs/{id}/versions'>>(design ? `/v1/designs/${design}/versions?limit=200` : null).data?.items ?? NONE;

/** A version with its parameter set; null until it is chosen and known. */
export const useVersion = ({ design, version }: { design: string; version: string }): Version | null =>
  useVersions(design).find(({ id }) => id === version) ?? null;

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
  const designs = useDesigns();
  const versions = useVersions(design);
  const none = { value: '', text: 'choose …' };
  return (
    <>
      <Choice
        name="design"
        value={design}
        of={[none, ...designs.map(({ id, name }) => ({ value: id, text: name }))]}
        onChange={(chosen) => onChange({ design: chosen, version: '' })}
      />
      <Choice
        name="version"
        value={version}
        of={[none, ...versions.map(({ id, number }) => ({ value: id, text: String(number) }))]}
        onChange={(chosen) => onChange({ design, version: chosen })}
      />
    </>
  );
}
