import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { readEnvironment as readApiEnvironment } from '../../api/environment.ts';
import { readEnvironment as readWorkerEnvironment } from '../../worker/environment.ts';

interface Service {
  image: string;
  build?: string;
  user?: string;
  read_only?: boolean;
  cap_drop?: string[];
  command?: string[];
  environment?: Record<string, string>;
  depends_on?: Record<string, { condition: string }>;
  healthcheck?: { test: string[] };
  ports?: string[];
  volumes?: string[];
}

const text = readFileSync('docker-compose.yml', 'utf8');
const { services, volumes } = parse(text, { merge: true }) as { services: Record<string, Service>; volumes: Record<string, unknown> };
const ours = ['api', 'worker'] as const;
const given = { POSTGRES_PASSWORD: 'anything', BOOTSTRAP_API_KEY: 'a-key-chosen-for-the-league-itself' };

/** What compose makes of ${NAME:-default} and ${NAME:?refusal}. */
const filledIn = (value: string) =>
  value.replace(/\$\{(\w+)(?::-([^}]*))?(?::\?[^}]*)?\}/g, (_, name: keyof typeof given, otherwise = '') => given[name] ?? otherwise);
const environmentOf = (service: Service) =>
  Object.fromEntries(Object.entries(service.environment ?? {}).map(([name, value]) => [name, filledIn(value)]));

describe('the compose file', () => {
  test('has the database, Redis, the API and a worker, each with a health check', () => {
    expect(Object.keys(services).sort()).toEqual(['api', 'postgres', 'redis', 'worker']);
    for (const [name, { healthcheck }] of Object.entries(services)) expect(healthcheck?.test[0], name).toBe('CMD');
  });

  test('runs both processes from one image, with files that are built, as an ordinary user without privileges', () => {
    expect(new Set(ours.map((name) => services[name].image)).size).toBe(1);
    const image = readFileSync('Dockerfile', 'utf8');
    const [, standard] = /^CMD (\[.*\])$/m.exec(image)!;
    for (const name of ours) {
      const [program, file] = services[name].command ?? (JSON.parse(standard) as string[]);
      expect(program).toBe('node');
      expect(existsSync(file.replace(/^dist\/(.*)\.js$/, '$1.ts')), file).toBe(true);
      expect(services[name]).toMatchObject({ user: 'node', read_only: true, cap_drop: ['ALL'] });
    }
    expect(image).toMatch(/^USER node$/m);
  });

  test('gives each process an environment that it accepts', () => {
    expect(readApiEnvironment(environmentOf(services.api), { database: 'required' })).toMatchObject({
      redisUrl: 'redis://redis:6379',
      bootstrapApiKey: given.BOOTSTRAP_API_KEY,
    });
    expect(readWorkerEnvironment(environmentOf(services.worker))).toMatchObject({ redisUrl: 'redis://redis:6379', metricsPort: 9090 });
  });

  test('starts nothing before what it needs is healthy', () => {
    for (const name of ours)
      for (const needed of ['postgres', 'redis']) expect(services[name].depends_on?.[needed]).toEqual({ condition: 'service_healthy' });
    expect(services.worker.depends_on?.api).toEqual({ condition: 'service_healthy' });
  });

  test('keeps jobs and records: a queue that throws nothing out and writes it down, volumes for both', () => {
    const command = services.redis.command!.join(' ');
    expect(command).toContain('--maxmemory-policy noeviction');
    expect(command).toContain('--appendonly yes');
    for (const name of ['postgres', 'redis']) expect(Object.keys(volumes)).toContain(services[name].volumes![0].split(':')[0]);
  });

  test('holds no secret, and only the API is reached from outside, from this machine alone', () => {
    for (const name of ['POSTGRES_PASSWORD', 'BOOTSTRAP_API_KEY']) {
      const uses = [...text.matchAll(new RegExp(`\\$\\{${name}([^}]*)\\}`, 'g'))];
      expect(uses.length).toBeGreaterThan(0);
      for (const [, rest] of uses) expect(rest, name).toMatch(/^:\?/);
    }
    for (const [name, { ports }] of Object.entries(services))
      expect(ports?.every((port) => port.startsWith('127.0.0.1:')) ?? true, name).toBe(true);
    expect(Object.keys(services).filter((name) => services[name].ports)).toEqual(['api']);
  });

  test('is accepted by docker compose where there is one', ({ skip }) => {
    if (spawnSync('docker', ['compose', 'version']).status !== 0) {
      process.stderr.write('left out: docker compose config, because there is no docker compose here\n');
      skip('there is no docker compose here');
    }
    const { status, stderr } = spawnSync('docker', ['compose', 'config', '--quiet'], {
      env: { ...process.env, ...given },
      encoding: 'utf8',
    });
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
  });
});
