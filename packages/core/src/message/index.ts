export {
  type Advice,
  advice,
  adviceText,
  advised,
  type OptionName,
  type OptionNamed,
  option,
  optionText,
} from './advice.js';
export type { Coded, NoArgs } from './coded.js';
