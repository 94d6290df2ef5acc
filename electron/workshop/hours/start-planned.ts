export { touchBuild as startPlanned } from '../builds/index.ts';
