import { z } from 'zod';
import type { Route } from '../route.ts';

export const serviceRoutes = {
  livez: {
    method: 'GET',
    url: '/livez',
    tag: 'service',
    summary: 'The process answers',
    open: true,
    responses: { 200: { description: 'Alive', schema: z.strictObject({ status: z.literal('ok') }), example: { status: 'ok' } } },
  },
  readyz: {
    method: 'GET',
    url: '/readyz',
    tag: 'service',
    summary: 'The service can take work: database and queue answer, and it is not shutting down',
    open: true,
    responses: { 200: { description: 'Ready', schema: z.strictObject({ status: z.literal('ok') }), example: { status: 'ok' } } },
    problems: ['unavailable'],
  },
  metrics: {
    method: 'GET',
    url: '/metrics',
    tag: 'service',
    summary: "Metrics of the process in the Prometheus text format; no team's data",
    open: true,
    responses: {
      200: { description: 'The metrics', schema: z.string(), mediaType: 'text/plain', example: 'process_cpu_seconds_total 12.3' },
    },
  },
  openapiDocument: {
    method: 'GET',
    url: '/openapi.json',
    tag: 'service',
    summary: 'This document',
    open: true,
    responses: { 200: { description: 'OpenAPI 3.1', schema: z.record(z.string(), z.unknown()), example: { openapi: '3.1.0' } } },
  },
  docs: {
    method: 'GET',
    url: '/docs',
    tag: 'service',
    summary: 'This document as pages',
    open: true,
    responses: { 200: { description: 'A page', schema: z.string(), mediaType: 'text/html', example: '<!doctype html>' } },
  },
} as const satisfies Record<string, Route>;
