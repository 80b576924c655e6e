import { describe, expect, test } from 'vitest';
import type { BuildVolumeBody, MaterialBody } from '../../openapi/index.ts';
import { recordsOfThisFile } from './open.ts';
import { newTeam, sampleInput } from './samples.ts';

const here = recordsOfThisFile();
const body = (key: string, densityGCm3 = 1.1): MaterialBody => {
  const { revision: _, ...values } = sampleInput(160).material;
  return { ...values, key, densityGCm3 };
};

describe('records of a team', () => {
  test('posting a key again makes the next revision; each stays as it was, the newest is the answer', async () => {
    const { materials } = here.records;
    const team = await newTeam(here.records);
    expect(await materials.create(team, body('soft', 1.1))).toMatchObject({ key: 'soft', revision: 1, teamId: team, archivedAt: null });
    expect(await materials.create(team, body('soft', 1.2))).toMatchObject({ revision: 2 });
    expect((await materials.get(team, 'soft'))?.body).toEqual(body('soft', 1.2));
    expect((await materials.get(team, 'soft', 1))?.body).toEqual(body('soft', 1.1));
    expect(await materials.get(team, 'soft', 3)).toBeNull();
    expect(await materials.get(team, 'hard')).toBeNull();
  });

  test('thirty posts of one key at once are revisions 1 to 30', async () => {
    const { materials } = here.records;
    const team = await newTeam(here.records);
    const made = await Promise.all(Array.from({ length: 30 }, (_, i) => materials.create(team, body('soft', 1 + i / 100))));
    expect(made.map(({ revision }) => revision).sort((a, b) => a - b)).toEqual(Array.from({ length: 30 }, (_, i) => i + 1));
    const pages = [];
    for (let cursor: string | null | undefined; cursor !== null; ) {
      const page = await materials.history(team, 'soft', { limit: 7, cursor });
      pages.push(...page.items);
      cursor = page.nextCursor;
    }
    expect(pages.map(({ revision }) => revision)).toEqual(Array.from({ length: 30 }, (_, i) => 30 - i));
    for (const { revision, body } of made) expect((await materials.get(team, 'soft', revision))?.body).toEqual(body);
  });

  test('an archived key is left out until it is posted again; its revisions stay readable', async () => {
    const { materials } = here.records;
    const team = await newTeam(here.records);
    await materials.create(team, body('soft'));
    expect(await materials.archive(team, 'soft')).toBe(true);
    expect(await materials.archive(team, 'unknown')).toBe(false);
    expect(await materials.get(team, 'soft')).toBeNull();
    expect((await materials.list(team, { limit: 10 })).items).toEqual([]);
    expect((await materials.get(team, 'soft', 1))?.archivedAt).toBeInstanceOf(Date);
    expect(await materials.create(team, body('soft'))).toMatchObject({ revision: 2, archivedAt: null });
    expect((await materials.list(team, { limit: 10 })).items).toMatchObject([{ key: 'soft', revision: 2 }]);
  });

  test('lists the newest revision of every key, by key, in pages', async () => {
    const { materials } = here.records;
    const team = await newTeam(here.records);
    for (const key of ['c', 'a', 'e', 'b', 'd', 'a']) await materials.create(team, body(key));
    const first = await materials.list(team, { limit: 3 });
    const second = await materials.list(team, { limit: 3, cursor: first.nextCursor });
    expect([...first.items, ...second.items].map(({ key, revision }) => `${key}${revision}`)).toEqual(['a2', 'b1', 'c1', 'd1', 'e1']);
    expect(second.nextCursor).toBeNull();
  });

  test('kinds and teams are apart: the same key may be taken in each', async () => {
    const { materials, buildVolumes, references } = here.records;
    const [team, other] = [await newTeam(here.records), await newTeam(here.records)];
    await materials.create(team, body('one'));
    const volume = { ...sampleInput(160).buildVolume, key: 'one' } as BuildVolumeBody;
    expect((await buildVolumes.create(team, volume)).revision).toBe(1);
    expect((await materials.create(other, body('one'))).revision).toBe(1);
    expect(await references.get(team, 'one')).toBeNull();
    expect(await buildVolumes.get(other, 'one')).toBeNull();
    expect(await buildVolumes.archive(other, 'one')).toBe(false);
    expect((await buildVolumes.get(team, 'one'))?.body).toEqual(volume);
  });
});
