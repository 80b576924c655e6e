/**
 * Version of the numbers in a result. It changes in the commit that changes any number the engine returns for the same input, so that a
 * stored result can always say which engine made it and the same input is computed once per engine version.
 */
export const ENGINE_VERSION = '1.4.3';
