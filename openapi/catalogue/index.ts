export { BUILD_VOLUMES } from './build-volumes.ts';
export { MATERIALS } from './materials.ts';
export { REFERENCES } from './references.ts';
