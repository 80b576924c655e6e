export { front } from './front.ts';
