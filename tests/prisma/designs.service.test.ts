import { describe, expect, test } from 'vitest';
import { recordsOfThisFile } from './open.ts';
import { newTeam, sampleParameterSet } from './samples.ts';

const here = recordsOfThisFile();
const content = (notes: string, basedOnId: string | null = null) => ({ parameterSet: sampleParameterSet, notes, basedOnId });
const newDesign = (team: string, name = 'Training ball') => here.records.designs.create(team, { name, notes: '' });

describe('designs', () => {
  test('are made, changed, and archived without being erased', async () => {
    const { designs } = here.records;
    const team = await newTeam(here.records);
    const design = await newDesign(team);
    expect(design).toEqual({
      id: expect.any(String),
      teamId: team,
      name: 'Training ball',
      notes: '',
      tags: [],
      createdAt: expect.any(Date),
      archivedAt: null,
    });
    expect(await designs.update(team, design.id, { notes: 'never needs a pump' })).toEqual({ ...design, notes: 'never needs a pump' });
    const archived = await designs.archive(team, design.id);
    expect(archived?.archivedAt).toBeInstanceOf(Date);
    expect(await designs.archive(team, design.id)).toEqual(archived);
    expect(await designs.get(team, design.id)).toEqual(archived);
    expect((await designs.list(team, { limit: 10 })).items).toEqual([]);
  });

  test('are listed once each, the newest first, while others are added', async () => {
    const { designs } = here.records;
    const team = await newTeam(here.records);
    const there = await Promise.all(Array.from({ length: 20 }, (_, i) => newDesign(team, `Ball ${i}`)));
    const listed: string[] = [];
    for (let cursor: string | null | undefined; cursor !== null; ) {
      const page = await designs.list(team, { limit: 6, cursor });
      listed.push(...page.items.map(({ id }) => id));
      cursor = page.nextCursor;
      await newDesign(team, 'later');
    }
    const newestFirst = there.sort((a, b) => b.createdAt.getTime() - a.createdAt.getTime() || (a.id < b.id ? 1 : -1));
    expect(listed).toEqual(newestFirst.map(({ id }) => id));
  });
});

describe('versions', () => {
  test('thirty posted at once are numbered 1 to 30 without gaps, also when some are refused', async () => {
    const { versions } = here.records;
    const team = await newTeam(here.records);
    const design = await newDesign(team);
    const unknown = design.id;
    const posts = Array.from({ length: 40 }, (_, i) => versions.create(team, design.id, content(`${i}`, i % 4 === 3 ? unknown : null)));
    const settled = await Promise.allSettled(posts);
    const numbers = settled.flatMap((each) => (each.status === 'fulfilled' ? each.value!.number : []));
    expect(numbers.sort((a, b) => a - b)).toEqual(Array.from({ length: 30 }, (_, i) => i + 1));
    const first = await versions.list(team, design.id, { limit: 20 });
    const second = await versions.list(team, design.id, { limit: 20, cursor: first!.nextCursor });
    expect([...first!.items, ...second!.items].map(({ number }) => number)).toEqual(Array.from({ length: 30 }, (_, i) => 30 - i));
  });

  test('keep their parameter set and what they are based on', async () => {
    const { versions } = here.records;
    const team = await newTeam(here.records);
    const design = await newDesign(team);
    const one = (await versions.create(team, design.id, content('first')))!;
    const two = (await versions.create(team, design.id, content('second', one.id)))!;
    expect(await versions.get(team, two.id)).toEqual(two);
    expect(two).toMatchObject({ number: 2, basedOnId: one.id, parameterSet: sampleParameterSet, notes: 'second' });
    expect(await versions.byNumber(team, design.id, 1)).toEqual(one);
    expect(await versions.byNumber(team, design.id, 3)).toBeNull();
  });

  test('may be based on the version of another design; are refused on an archived design and on the version of another team', async () => {
    const { designs, versions } = here.records;
    const [team, others] = [await newTeam(here.records), await newTeam(here.records)];
    const [design, other] = [await newDesign(team), await newDesign(team)];
    const elsewhere = (await versions.create(team, other.id, content('')))!;
    expect(await versions.create(team, design.id, content('', elsewhere.id))).toMatchObject({ number: 1, basedOnId: elsewhere.id });
    const foreign = (await versions.create(others, (await newDesign(others)).id, content('')))!;
    const refused = { name: 'RecordFault', code: 'based-on-unknown', field: 'basedOnId', value: foreign.id };
    await expect(versions.create(team, design.id, content('', foreign.id))).rejects.toMatchObject(refused);
    await designs.archive(team, other.id);
    await expect(versions.create(team, other.id, content(''))).rejects.toMatchObject({ code: 'design-archived', value: other.id });
  });
});

test('another team sees and changes nothing of it', async () => {
  const { designs, versions } = here.records;
  const [team, other] = [await newTeam(here.records), await newTeam(here.records)];
  const design = await newDesign(team);
  const version = (await versions.create(team, design.id, content('')))!;
  expect(await designs.get(other, design.id)).toBeNull();
  expect(await designs.update(other, design.id, { name: 'taken' })).toBeNull();
  expect(await designs.archive(other, design.id)).toBeNull();
  expect(await versions.create(other, design.id, content(''))).toBeNull();
  expect(await versions.get(other, version.id)).toBeNull();
  expect(await versions.byNumber(other, design.id, 1)).toBeNull();
  expect(await versions.update(other, design.id, 1, { notes: 'taken' })).toBeNull();
  expect(await versions.list(other, design.id, { limit: 10 })).toBeNull();
  expect(await designs.get(team, design.id)).toEqual(design);
  expect(await versions.get(team, version.id)).toEqual(version);
});
