import { createParse } from 'mathjs';

// The factory is exported by mathjs but missing from its type declarations.
declare module 'mathjs' {
  export function createParse(parts: Record<string, unknown>): (text: string) => ParsedNode;
}

/** A node of a parsed expression. Kinds that no expression here may hold carry nothing but their type. */
export type ParsedNode =
  | { readonly type: 'ConstantNode'; readonly value: unknown }
  | { readonly type: 'SymbolNode'; readonly name: string }
  | { readonly type: 'ParenthesisNode'; readonly content: ParsedNode }
  | {
      readonly type: 'OperatorNode';
      readonly op: string;
      readonly fn: string;
      readonly args: readonly ParsedNode[];
      /** a product without its sign: 2 x */
      readonly implicit?: boolean;
    }
  | { readonly type: 'FunctionNode'; readonly fn: ParsedNode; readonly args: readonly ParsedNode[] }
  | {
      readonly type: 'RelationalNode';
      readonly conditionals: readonly string[];
      readonly params: readonly ParsedNode[];
    }
  | {
      readonly type: 'ConditionalNode';
      readonly condition: ParsedNode;
      readonly trueExpr: ParsedNode;
      readonly falseExpr: ParsedNode;
    }
  | { readonly type: RefusedType };

export type RefusedType =
  | 'AccessorNode'
  | 'ArrayNode'
  | 'AssignmentNode'
  | 'BlockNode'
  | 'FunctionAssignmentNode'
  | 'IndexNode'
  | 'ObjectNode'
  | 'RangeNode';

/** The constructor of a node, as the parser calls it: its arguments in the order of `keys`. */
function node(type: ParsedNode['type'], ...keys: string[]) {
  class Node {
    readonly type = type;
    constructor(...values: unknown[]) {
      for (const [i, key] of keys.entries()) Object.assign(this, { [key]: values[i] });
    }
  }
  // How mathjs tells its nodes.
  Object.assign(Node.prototype, { isNode: true, [`is${type}`]: true });
  return Node;
}

/**
 * mathjs' parser alone. Its own nodes can evaluate themselves, for which they bring all of its functions along (140 kB,
 * 50 ms); these only hold what was written, so that nothing of mathjs can be called from an expression.
 * @throws SyntaxError with `char`, from 1
 */
export const parseMath: (text: string) => ParsedNode = createParse({
  typed: Object.assign(
    (_: string, signatures: { readonly string: (text: string) => ParsedNode }) => (text: string) =>
      signatures.string(text),
    { addConversion: () => {} },
  ),
  numeric: Number,
  config: { number: 'number' },
  AccessorNode: node('AccessorNode'),
  ArrayNode: node('ArrayNode'),
  AssignmentNode: node('AssignmentNode'),
  BlockNode: node('BlockNode'),
  ConditionalNode: node('ConditionalNode', 'condition', 'trueExpr', 'falseExpr'),
  ConstantNode: node('ConstantNode', 'value'),
  FunctionAssignmentNode: node('FunctionAssignmentNode'),
  FunctionNode: node('FunctionNode', 'fn', 'args'),
  IndexNode: node('IndexNode'),
  ObjectNode: node('ObjectNode'),
  OperatorNode: node('OperatorNode', 'op', 'fn', 'args', 'implicit'),
  ParenthesisNode: node('ParenthesisNode', 'content'),
  RangeNode: node('RangeNode'),
  RelationalNode: node('RelationalNode', 'conditionals', 'params'),
  SymbolNode: node('SymbolNode', 'name'),
});
