export type { Coded, NoArgs } from './coded.js';
