import { closest } from './closest.js';
import { type ParsedNode, parseMath, type RefusedType } from './mathjs-parse.js';
import { shown } from './quantity.js';

/** What a load's expression may use: [°C], [°C], local civil hour 0..24, 0..1. */
export const EXPRESSION_VARIABLES = ['ambient', 'cabin', 'hour', 'soc'] as const;

/** The text is no expression that may stand here. */
export class ExpressionError extends Error {
  override readonly name = 'ExpressionError';
  constructor(
    message: string,
    /** from 1, within the text */
    readonly column: number,
    readonly hint?: string,
  ) {
    super(message);
  }
}

/** A number for each variable. */
export type Scope<Name extends string> = { readonly [name in Name]: number };

/** An expression read once, to be evaluated at each step. */
export interface CompiledExpression<Name extends string> {
  readonly text: string;
  /** The variables that it mentions. */
  readonly uses: ReadonlySet<Name>;
  /** Pure. Not finite when the arithmetic is not (1/0, sqrt(-1)): the caller decides what that means. */
  evaluate(scope: Scope<Name>): number;
}

type Step = (scope: Readonly<Record<string, number>>) => number;

/** name -> [fewest, most arguments, function] */
const FUNCTIONS: Readonly<Record<string, readonly [number, number, (...args: number[]) => number]>> = {
  min: [1, 16, Math.min],
  max: [1, 16, Math.max],
  clamp: [3, 3, (x, low, high) => Math.min(Math.max(x!, low!), high!)],
  abs: [1, 1, Math.abs],
  sign: [1, 1, Math.sign],
  sqrt: [1, 1, Math.sqrt],
  exp: [1, 1, Math.exp],
  log: [1, 1, Math.log],
  log10: [1, 1, Math.log10],
  floor: [1, 1, Math.floor],
  ceil: [1, 1, Math.ceil],
  round: [1, 1, Math.round],
  pow: [2, 2, (x, y) => x! ** y!],
  mod: [2, 2, (x, y) => modulo(x!, y!)],
  sin: [1, 1, Math.sin],
  cos: [1, 1, Math.cos],
  tan: [1, 1, Math.tan],
};

/** Names of the functions that an expression may use. */
export const EXPRESSION_FUNCTIONS: readonly string[] = Object.keys(FUNCTIONS);

/** mathjs' names of the operators -> what they do; comparisons give 1 or 0. */
const OPERATORS: Readonly<Record<string, (a: Step, b: Step) => Step>> = {
  add: (a, b) => (s) => a(s) + b(s),
  subtract: (a, b) => (s) => a(s) - b(s),
  multiply: (a, b) => (s) => a(s) * b(s),
  divide: (a, b) => (s) => a(s) / b(s),
  pow: (a, b) => (s) => a(s) ** b(s),
  mod: (a, b) => (s) => modulo(a(s), b(s)),
  smaller: (a, b) => (s) => (a(s) < b(s) ? 1 : 0),
  larger: (a, b) => (s) => (a(s) > b(s) ? 1 : 0),
  smallerEq: (a, b) => (s) => (a(s) <= b(s) ? 1 : 0),
  largerEq: (a, b) => (s) => (a(s) >= b(s) ? 1 : 0),
  equal: (a, b) => (s) => (a(s) === b(s) ? 1 : 0),
  unequal: (a, b) => (s) => (a(s) !== b(s) ? 1 : 0),
  and: (a, b) => (s) => (a(s) !== 0 && b(s) !== 0 ? 1 : 0),
  or: (a, b) => (s) => (a(s) !== 0 || b(s) !== 0 ? 1 : 0),
};
const UNARY: Readonly<Record<string, (a: Step) => Step>> = {
  unaryMinus: (a) => (s) => -a(s),
  unaryPlus: (a) => a,
  not: (a) => (s) => (a(s) === 0 ? 1 : 0),
};
const CONSTANTS: Readonly<Record<string, number>> = { pi: Math.PI, e: Math.E };

/** Remainder with the sign of the divisor, as mathjs defines it: mod(-1, 24) is 23. */
function modulo(x: number, y: number): number {
  return y === 0 ? x : x - y * Math.floor(x / y);
}

const LONGEST = 500;

/**
 * Compiles arithmetic once, to be evaluated at each step. The text is parsed by mathjs; only numbers, the named
 * variables, the operators and functions listed here are let through, and they are compiled to plain functions: there is
 * no assignment, no function definition, no property access, no text, no list and no unit, and nothing of mathjs or of
 * the machine can be reached from it.
 * @throws ExpressionError
 */
export function compileExpression<Name extends string>(
  text: string,
  variables: readonly Name[],
): CompiledExpression<Name> {
  if (text.trim() === '') throw new ExpressionError('the expression is empty', 1);
  if (text.length > LONGEST) throw new ExpressionError(`the expression is longer than ${LONGEST} characters`, LONGEST);
  const uses = new Set<Name>();
  const step = new Compiler(text, variables, uses).step(parse(text));
  return { text, uses, evaluate: step as (scope: Scope<Name>) => number };
}

function parse(text: string): ParsedNode {
  try {
    return parseMath(text);
  } catch (error) {
    const { char, message } = error as { char?: number; message: string };
    throw new ExpressionError(
      `${shown(text)} is not an expression: ${message.replace(/ \(char \d+\)$/, '')}`,
      char ?? 1,
    );
  }
}

class Compiler<Name extends string> {
  constructor(
    private readonly text: string,
    private readonly variables: readonly Name[],
    private readonly uses: Set<Name>,
  ) {}

  step(node: ParsedNode): Step {
    switch (node.type) {
      case 'ConstantNode':
        return this.constant(node.value);
      case 'ParenthesisNode':
        return this.step(node.content);
      case 'SymbolNode':
        return this.symbol(node.name);
      case 'OperatorNode':
        return this.operator(node);
      case 'RelationalNode':
        return this.relation(node);
      case 'ConditionalNode': {
        const [condition, yes, no] = [this.step(node.condition), this.step(node.trueExpr), this.step(node.falseExpr)];
        return (s) => (condition(s) !== 0 ? yes(s) : no(s));
      }
      case 'FunctionNode':
        return this.call(node);
      default:
        throw this.refuse(REFUSED[node.type], /["[\]{}=;:.]|\n/);
    }
  }

  private constant(value: unknown): Step {
    if (typeof value === 'boolean') return value ? () => 1 : () => 0;
    if (typeof value !== 'number') throw this.refuse(typeof value === 'string' ? 'text in quotes' : `${value}`, /["']/);
    if (!Number.isFinite(value)) throw this.refuse('a number that is not finite', /Infinity|NaN|\d/);
    return () => value;
  }

  private symbol(name: string): Step {
    if (this.variables.includes(name as Name)) {
      this.uses.add(name as Name);
      return (s) => s[name]!;
    }
    if (Object.hasOwn(CONSTANTS, name)) {
      const value = CONSTANTS[name]!;
      return () => value;
    }
    throw this.unknown(name, Object.hasOwn(FUNCTIONS, name) ? `write ${name}(...)` : undefined, this.variables);
  }

  private operator(node: ParsedNode & { type: 'OperatorNode' }): Step {
    const { fn: name, args } = node;
    const unary = args.length === 1 && Object.hasOwn(UNARY, name) ? UNARY[name] : undefined;
    if (unary) return unary(this.step(args[0]!));
    // "3 soc" is three times it; "cabin cabin" is more likely a slip
    if (node.implicit && constantOf(args[0]) === undefined)
      throw new ExpressionError(
        'two values stand side by side, with nothing between them',
        1,
        'a product needs its sign: 2 * cabin',
      );
    if (name === 'mod' || name === 'divide')
      this.refuseNought(name === 'mod' ? 'the remainder of a division' : 'a division', args[1]);
    const binary = args.length === 2 && Object.hasOwn(OPERATORS, name) ? OPERATORS[name] : undefined;
    if (!binary) throw this.refuse(`the operator ${node.op}`, node.op);
    return binary(this.step(args[0]!), this.step(args[1]!));
  }

  /** a < b < c */
  private relation(node: ParsedNode & { type: 'RelationalNode' }): Step {
    const terms = node.params.map((param) => this.step(param));
    return node.conditionals
      .map((name, i) => OPERATORS[name]!(terms[i]!, terms[i + 1]!))
      .reduce((all, next) => OPERATORS.and!(all, next));
  }

  private call(node: ParsedNode & { type: 'FunctionNode' }): Step {
    const { fn } = node;
    if (fn.type !== 'SymbolNode') throw this.refuse('a call of anything but a named function', '(');
    const { name } = fn;
    if (!Object.hasOwn(FUNCTIONS, name)) throw this.unknown(name, undefined, Object.keys(FUNCTIONS));
    const [fewest, most, f] = FUNCTIONS[name]!;
    const args = node.args.map((arg) => this.step(arg));
    if (args.length < fewest || args.length > most) {
      const wanted = fewest === most ? `${fewest}` : `${fewest} or more`;
      throw new ExpressionError(
        `${name}() takes ${wanted} value${fewest === 1 && most === 1 ? '' : 's'}, found ${args.length}`,
        this.column(name),
      );
    }
    if (name === 'mod') this.refuseNought('mod()', node.args[1]);
    if (name === 'clamp') {
      const [low, high] = [constantOf(node.args[1]), constantOf(node.args[2])];
      if (low !== undefined && high !== undefined && low > high)
        throw new ExpressionError(
          `clamp() has its lowest value, ${low}, above its highest, ${high}`,
          this.column(name),
          'clamp(value, lowest, highest)',
        );
    }
    const [a, b, c] = args;
    if (args.length === 1) return (s) => f(a!(s));
    if (args.length === 2) return (s) => f(a!(s), b!(s));
    if (args.length === 3) return (s) => f(a!(s), b!(s), c!(s));
    return (s) => f(...args.map((arg) => arg(s)));
  }

  private refuseNought(what: string, divisor: ParsedNode | undefined): void {
    if (constantOf(divisor) === 0)
      throw new ExpressionError(`${what} by 0 is no number`, 1, 'divide by something else');
  }

  private unknown(name: string, hint: string | undefined, known: readonly string[]): ExpressionError {
    const near = closest(name, known);
    const help = hint ?? (near ? `did you mean ${near}?` : `known here: ${known.join(', ')}`);
    return new ExpressionError(`unknown name ${shown(name)} in the expression`, this.column(name), help);
  }

  private refuse(what: string, mark: string | RegExp): ExpressionError {
    return new ExpressionError(
      `${what} is not allowed in an expression`,
      this.column(mark),
      'only numbers, variables, arithmetic, comparisons and ?: can stand here',
    );
  }

  private column(mark: string | RegExp): number {
    const word = typeof mark === 'string' && /^\w+$/.test(mark) ? new RegExp(`\\b${mark}\\b`) : mark;
    const at = typeof word === 'string' ? this.text.indexOf(word) : this.text.search(word);
    return Math.max(0, at) + 1;
  }
}

/** The value of a number as it is written, with its sign or in parentheses; undefined for anything else. */
function constantOf(node: ParsedNode | undefined): number | undefined {
  if (node?.type === 'ConstantNode') return typeof node.value === 'number' ? node.value : undefined;
  if (node?.type === 'ParenthesisNode') return constantOf(node.content);
  if (node?.type !== 'OperatorNode' || node.args.length !== 1) return undefined;
  const inner = constantOf(node.args[0]);
  return inner === undefined
    ? undefined
    : node.fn === 'unaryMinus'
      ? -inner
      : node.fn === 'unaryPlus'
        ? inner
        : undefined;
}

const REFUSED: Readonly<Record<RefusedType, string>> = {
  AccessorNode: 'reaching into a value',
  ArrayNode: 'a list',
  AssignmentNode: 'an assignment',
  BlockNode: 'more than one expression',
  FunctionAssignmentNode: 'defining a function',
  IndexNode: 'an index',
  ObjectNode: 'an object',
  RangeNode: 'a range',
};
