/** A last word that is no part of a quotation and is not shut out: it may be begun only. */
const BEGUN = /(?:^|\s)[\p{L}\p{N}]+$/u;

/** SQL: the words that are asked for, at a parameter that holds `wordsAsked`. */
export const wordsQuery = (parameter: string): string =>
  `regexp_replace(websearch_to_tsquery('simple', (${parameter}::text[])[1])::text, '''$', case when (${parameter}::text[])[2] = 'begun' then ''':*' else '''' end)::tsquery`;

/** SQL: the words of a design `d`, and of a version `v`, as they are indexed. */
export const DESIGN_WORDS = `to_tsvector('simple', d.name || ' ' || d.notes)`;
export const VERSION_WORDS = `to_tsvector('simple', v.notes)`;

/** The value of that parameter. */
export const wordsAsked = (words: string): [string, string] => [words, BEGUN.test(words) ? 'begun' : 'whole'];
