/**
 * Arithmetic with units by mathjs; loaded when a figure is first typed (about 86 kB compressed), never before.
 *
 * Only numbers, units, + − · / ^ and brackets get through: the parsed tree is searched before anything is
 * evaluated, so no function, assignment, range, matrix or text can run, however it is spelled.
 */
import {
  addDependencies,
  create,
  divideDependencies,
  multiplyDependencies,
  parseDependencies,
  powDependencies,
  subtractDependencies,
  unaryMinusDependencies,
  unaryPlusDependencies,
  unitDependencies,
  type ConstantNode,
  type MathNode,
  type OperatorNode,
  type SymbolNode,
  type Unit,
} from 'mathjs';

const math = create({
  ...addDependencies,
  ...divideDependencies,
  ...multiplyDependencies,
  ...parseDependencies,
  ...powDependencies,
  ...subtractDependencies,
  ...unaryMinusDependencies,
  ...unaryPlusDependencies,
  ...unitDependencies,
});

const OPERATORS = new Set(['add', 'subtract', 'multiply', 'divide', 'pow', 'unaryMinus', 'unaryPlus']);

/** `math.Unit` is a class with a static test that the published types leave out. */
const isUnitName = (name: string): boolean =>
  (math as unknown as { Unit: { isValuelessUnit(name: string): boolean } }).Unit.isValuelessUnit(name);

function isPlain(node: MathNode): boolean {
  switch (node.type) {
    case 'ConstantNode':
      return typeof (node as ConstantNode).value === 'number';
    case 'SymbolNode':
      return isUnitName((node as SymbolNode).name);
    case 'OperatorNode':
      return OPERATORS.has((node as OperatorNode).fn);
    case 'ParenthesisNode':
      return true;
    default:
      return false;
  }
}

/** What a typed expression came to. */
export type Evaluated =
  | { readonly kind: 'number'; readonly value: number }
  /** In SI. */
  | { readonly kind: 'quantity'; readonly value: number }
  | { readonly kind: 'other unit' }
  | { readonly kind: 'not an expression' };

const isUnit = (value: unknown): value is Unit =>
  typeof value === 'object' && value !== null && (value as { isUnit?: boolean }).isUnit === true;

/**
 * @param text already in mathjs's spelling, short
 * @param base the SI unit wanted, or null where only a number will do
 */
export function evaluate(text: string, base: string | null): Evaluated {
  try {
    const tree = math.parse(text);
    if (tree.filter((node) => !isPlain(node)).length > 0) return { kind: 'not an expression' };
    const value: unknown = tree.evaluate({});
    if (typeof value === 'number') return { kind: 'number', value };
    if (!isUnit(value)) return { kind: 'not an expression' };
    if (base === null || !value.equalBase(math.unit(base))) return { kind: 'other unit' };
    return { kind: 'quantity', value: value.toNumber(base) };
  } catch {
    // mathjs throws on bad grammar and on sums of unlike units; to a maker both are the same.
    return { kind: 'not an expression' };
  }
}
