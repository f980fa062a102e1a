// Holds over the journal: the keeper runs the rules within the commit, and shows what they made of it.
export { Keeper, openKeeper, type DeviceBorn, type KeeperSettings } from './keeper.ts';
export type { BenchAnswer, ResultTold } from './balance-answers.ts';
export type { Publication } from './publications.ts';
export { decidedOrRemarked, floorThrough } from './floor-through.ts';
