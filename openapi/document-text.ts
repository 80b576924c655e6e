/** What a reader of the document has to know before the first call. */
export const DESCRIPTION = `Post the parameters of a printed strut lattice; a worker computes its geometry, mass, balance, printability, build time and cost.

**Units.** Every number carries its unit in its name: \`Mm\`, \`G\`, \`MPa\`, \`S\`, \`Pct\`, \`Hours\` and so on. Axes are right-handed, +Z is the build direction.

**Keys.** Every call under \`/v1\` carries \`Authorization: Bearer <key>\`. A team sees its own data and the built-in records only.

**Sending again.** Every \`POST\` takes an \`Idempotency-Key\`: when an answer got lost, send the same request with the same key, and what it makes
is made once. Keys belong to a team and a route. Refusals are kept too; failures of the service (5xx) are not.

**Lists** answer \`{ "items": [], "nextCursor": null }\`. **Errors** are problem details (RFC 9457) that name the field, its value and what is allowed.

**Cautions.** The numbers are computed, not measured: test a printed object before anybody relies on it. *Impact*: an object that is thrown or
kicked hits heads and hands, and a lattice can be harder than the object it replaces. *Entrapment*: openings between about 8 and 25 mm can hold
a finger, and they widen when the object is squeezed. *Small parts*: a strut that breaks off can be swallowed or cut. *Powder*: polymer powder
irritates airways and its dust can burn; powder left inside an object comes out in use. *Lasers and heat*: a printing machine has both; keep to
its maker's instructions. *Use by children*: a toy or a sports article for children has to be assessed as such before it is handed out. Nothing
here replaces local codes and regulations, or the judgement of licensed and qualified people; where they differ from a result, they prevail.`;

export const TAGS = [
  { name: 'evaluations', description: 'Evaluate parameter sets, follow the work, read results and history, download files' },
  { name: 'batches', description: 'Evaluate thousands of points overnight, behind everything interactive' },
  { name: 'searches', description: 'Find parameters that meet the targets of a reference' },
  { name: 'trays', description: 'Plan one build of several versions, read its places, times and costs, download it' },
  { name: 'designs', description: 'Designs and their immutable, numbered versions' },
  { name: 'test house', description: 'Printed parts, what was measured on them, predicted beside measured, acceptance' },
  { name: 'records', description: 'Materials, build volumes and references: built-in ones, and own ones in revisions' },
  { name: 'keys', description: 'API keys and teams' },
  { name: 'service', description: 'Health, metrics and this document' },
];
