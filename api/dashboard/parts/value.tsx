import { label, number } from '../words.ts';

/** A number with its unit. */
export function Value({ of, unit, digits }: { of: number | null | undefined; unit: string; digits?: number }) {
  return (
    <>
      {number(of, digits)}
      {unit !== '' && of !== null && of !== undefined && <span class="unit">{unit}</span>}
    </>
  );
}

/** A quantity by its field's name: the value with the unit that the name tells. */
export const Quantity = ({ name, of }: { name: string; of: number | null | undefined }) => <Value of={of} unit={label(name).unit} />;

/** Names, numbers, units and how many digits of them. */
export type Fact = readonly [name: string, of: number | null | undefined, unit: string, digits?: number];

export function Facts({ of }: { of: readonly Fact[] }) {
  return (
    <dl>
      {of.map(([name, value, unit, digits]) => [
        <dt key={name}>{name}</dt>,
        <dd key={`${name} value`}>
          <Value of={value} unit={unit} digits={digits} />
        </dd>,
      ])}
    </dl>
  );
}
