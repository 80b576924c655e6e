import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Changes, type Hearer, openChanges } from '../../api/changes.ts';
import { exampleParameterSet, exampleRequest } from '../../openapi/examples.ts';
import { type EventClient, follow } from './events-client.ts';
import { finish } from './finished.ts';
import { bearer, openSite, type Person, type Site } from './site.ts';

let site: Site;
let referee: Person;
let diameter = 150;
beforeAll(async () => {
  site = await openSite({ eventTimes: { readAgainMs: 100 } });
  referee = await site.person();
});
afterAll(() => site.close());

async function posted(who = referee, at = site): Promise<string> {
  diameter += 0.5;
  const parameterSet = { ...exampleParameterSet, carrier: { shape: 'sphere', outsideDiameterMm: diameter } };
  return (await at.call(who, 'POST', '/v1/evaluations', { body: { ...exampleRequest, parameterSet } })).body.id;
}
const computationOf = async (id: string, at = site, who = referee) => (await at.records.evaluations.get(who.teamId, id))!.computationId;
const listen = (query = '', headers: Record<string, string> = {}, who = referee) =>
  follow(site.app, `/v1/events${query}`, { ...bearer(who), ...headers });
const statesOf = (client: EventClient, id: string) =>
  client.heard().flatMap(({ data }) => (data.id === id ? [`${data.status} ${data.stage} ${data.progressPct}`] : []));
/** Readings are a fifth of a second apart here, but this machine is shared. */
const soon = (what: () => unknown) => expect.poll(what, { timeout: 5_000, interval: 20 });

describe('events of one evaluation', () => {
  test('tell its state, each change, and end when it is final', async () => {
    const id = await posted();
    const computation = await computationOf(id);
    const client = await listen(`?evaluationId=${id}`);
    expect([client.status, client.headers['content-type'], client.headers['cache-control']]).toEqual([
      200,
      'text/event-stream',
      'no-store',
    ]);
    await soon(() => statesOf(client, id)).toEqual(['queued null 0']);
    await site.records.computations.claim(computation, 'a test');
    await soon(() => statesOf(client, id).length).toBe(2);
    await site.records.computations.progress(computation, { stage: 'slices', progressPct: 55 });
    await soon(() => statesOf(client, id).length).toBe(3);
    await finish(site.records, referee.teamId, id);
    await client.ended;
    expect(statesOf(client, id)).toEqual(['queued null 0', 'running null 0', 'running slices 55', 'done null 100']);
    expect(client.heard().at(-1)).toMatchObject({ event: 'end' });
  });

  test('that is final come once, and end', async () => {
    const id = await posted();
    await site.call(referee, 'DELETE', `/v1/evaluations/${id}`);
    const client = await listen(`?evaluationId=${id}`);
    await client.ended;
    expect(client.heard().map(({ event, data }) => [event, data.status])).toEqual([
      ['evaluation', 'cancelled'],
      ['end', undefined],
    ]);
  });

  test('after a lost connection begin with the state as it is then', async () => {
    const id = await posted();
    const computation = await computationOf(id);
    const first = await listen(`?evaluationId=${id}`);
    await soon(() => first.heard().length).toBe(1);
    first.hangUp();
    await site.records.computations.claim(computation, 'a test');
    await site.records.computations.progress(computation, { stage: 'tiling', progressPct: 10 });
    const again = await listen(`?evaluationId=${id}`, { 'last-event-id': first.heard()[0].id! });
    await soon(() => statesOf(again, id)).toEqual(['running tiling 10']);
    again.hangUp();
  });

  test('of several are told together, and end with the last of them', async () => {
    const ids = [await posted(), await posted()];
    const client = await listen(`?evaluationId=${ids[0]}&evaluationId=${ids[1]}`);
    await finish(site.records, referee.teamId, ids[0]);
    await soon(() => statesOf(client, ids[0]).at(-1)).toBe('done null 100');
    expect(client.heard().some(({ event }) => event === 'end')).toBe(false);
    await finish(site.records, referee.teamId, ids[1]);
    await client.ended;
    expect(statesOf(client, ids[1]).at(-1)).toBe('done null 100');
  });
});

describe('events of a team', () => {
  test('tell all that is live and what is posted later, of nobody else, and go on', async () => {
    const [captain, stranger] = [await site.person(), await site.person()];
    const old = await posted(captain);
    await finish(site.records, captain.teamId, old);
    const live = await posted(captain);
    const client = await listen('', {}, captain);
    await soon(() => statesOf(client, live)).toEqual(['queued null 0']);
    const later = await posted(captain);
    const theirs = await posted(stranger);
    await soon(() => statesOf(client, later)).toEqual(['queued null 0']);
    for (const id of [live, later]) await finish(site.records, captain.teamId, id);
    for (const id of [live, later]) await soon(() => statesOf(client, id).at(-1)).toBe('done null 100');
    for (const id of [old, theirs]) expect(statesOf(client, id)).toEqual([]);
    expect(client.heard().some(({ event }) => event === 'end')).toBe(false);
    client.hangUp();
  });

  test('after a lost connection tell also what has finished meanwhile', async () => {
    const captain = await site.person();
    const id = await posted(captain);
    const first = await listen('', {}, captain);
    await soon(() => first.heard().length).toBe(1);
    first.hangUp();
    await finish(site.records, captain.teamId, id);
    const anew = await listen('', {}, captain);
    const again = await listen('', { 'last-event-id': first.heard()[0].id! }, captain);
    await soon(() => statesOf(again, id)).toEqual(['done null 100']);
    expect(statesOf(anew, id)).toEqual([]);
    for (const client of [anew, again]) client.hangUp();
  });
});

describe('are refused', () => {
  test('without a key', async () => {
    const client = await follow(site.app, '/v1/events', {});
    await client.ended;
    expect([client.status, JSON.parse(client.text()).code]).toEqual([401, 'unauthorized']);
  });

  test.each(['7', '019aab00-0000-7000-8000-000000000001'])('for the evaluation %s', async (id) => {
    const client = await listen(`?evaluationId=${id}`);
    await client.ended;
    expect([client.status, JSON.parse(client.text()).errors[0].pointer]).toEqual([400, '/evaluationId']);
  });

  test('for the evaluation of another team', async () => {
    const client = await listen(`?evaluationId=${await posted(await site.person())}`);
    await client.ended;
    expect(client.status).toBe(400);
  });
});

test('a change is told at once, however seldom states are read', async () => {
  const hearers = new Set<Hearer>();
  // The site makes its database itself, so what it hears is passed on from a connection that is opened after it.
  const relay: Changes = {
    subscribe: (hear) => {
      hearers.add(hear);
      return () => hearers.delete(hear);
    },
  };
  const watched = await openSite({ changes: relay, eventTimes: { readAgainMs: 60_000 } });
  const changes = await openChanges({ databaseUrl: watched.databaseUrl, onError: (error) => expect.fail(error.message) });
  changes.subscribe((id) => {
    for (const hear of hearers) hear(id);
  });
  const person = await watched.person();
  const id = await posted(person, watched);
  const client = await follow(watched.app, `/v1/events?evaluationId=${id}`, bearer(person));
  await soon(() => client.heard().length).toBe(1);
  await watched.records.computations.claim(await computationOf(id, watched, person), 'a test');
  await soon(() => statesOf(client, id)).toEqual(['queued null 0', 'running null 0']);
  await finish(watched.records, person.teamId, id);
  await client.ended;
  await expect.poll(() => hearers.size).toBe(0);
  await changes.close();
  await watched.close();
});

test('a quiet stream has comments, ends when its time is over or the server closes, and then without the event end', async () => {
  const brief = await openSite({ eventTimes: { readAgainMs: 20, heartbeatMs: 50, longestMs: 600 } });
  const person = await brief.person();
  const id = await posted(person, brief);
  const timed = await follow(brief.app, `/v1/events?evaluationId=${id}`, bearer(person));
  await timed.ended;
  expect(timed.text().match(/^: still here$/gm)!.length).toBeGreaterThan(1);
  expect(timed.heard().map(({ event }) => event)).toEqual(['evaluation']);
  await brief.close();

  const closing = await openSite();
  const other = await closing.person();
  const held = await follow(closing.app, '/v1/events', bearer(other));
  await soon(() => held.text()).toContain('retry:');
  const began = performance.now();
  await closing.close();
  await held.ended;
  // It does not wait for the next reading, which is two seconds away.
  expect(performance.now() - began).toBeLessThan(1900);
});
