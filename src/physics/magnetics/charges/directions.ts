/**
 * Solutions of the charge equation from directions that are kept: charges z of a coupling, and the field K z that the matrix makes of
 * them. For any permeabilities A z follows from these without the matrix, so that whatever was learned in one solution (which
 * mostly is how the bodies magnetise each other) serves the next: other chords of the magnets, another field, the coils.
 */
import { answers, chainOf, complete, imageOf, rowsOf } from './bodyChain.ts';
import type { BodyChain, Rows } from './bodyChain.ts';
import type { Permeabilities } from './zoneRows.ts';
import type { Coupling } from './assemble.ts';
import type { Factors } from './bodyFactors.ts';
import { Images, norm } from '../../numerics/images.ts';

/** Relative residual of the charges; fields then carry about as many digits, far more than the mesh does. */
const TOLERANCE = 5e-8;
/** Far more than the ten or so that pickups take; bodies in contact take some thirty. */
const MOST_STEPS = 200;
/** Rounding of an ill-conditioned contact may stop it a little short of the goal; the field does not notice. */
const SLACK = 1e3;

/** Directions, as of two coils in contact with much; to go through more of them costs more than finding some anew. */
const MOST_KEPT = 240;

/** Sets of permeabilities whose images are kept: of the magnets, and of the coils at both frequencies. */
const KEPT_IMAGES = 3;

/** A load on the representatives, A/m, and where its charges are good enough; see ChargeProblem. */
export interface ReducedProblem extends Permeabilities {
  readonly load: Float64Array;
  readonly tolerance?: number | undefined;
}

/** The images of all directions for certain permeabilities, every row divided by its weight. */
interface Seen extends Rows {
  readonly images: Images;
}

/** One problem on its way. */
interface Run {
  readonly problem: ReducedProblem;
  readonly seen: Seen;
  /** The rest, divided by the weights, less what lies among the images; and how much of each that was. */
  readonly rest: Float64Array;
  readonly shares: number[];
  /** Size of the charges that it began with, A/m. */
  size: number;
  solution: Float64Array | null;
}

export class Directions {
  private readonly chain: BodyChain;
  private z: Float64Array[] = [];
  private fields: Float64Array[] = [];
  private seen: Seen[] = [];

  constructor(
    coupling: Coupling,
    private readonly factors: Factors,
  ) {
    this.chain = chainOf(coupling);
  }

  /**
   * Charges on the representatives, A/m. Every direction serves all of the problems.
   * @throws RangeError when they do not settle, which means overlapping bodies
   */
  solve(problems: readonly ReducedProblem[]): readonly Float64Array[] {
    if (this.z.length > MOST_KEPT) {
      this.z = [];
      this.fields = [];
      this.seen = [];
    }
    const runs = problems.map((problem) => this.begun(problem));
    let left: readonly Run[] = runs;
    for (let step = 0; left.length > 0; step++) {
      if (step === MOST_STEPS) throw new RangeError('The bodies must not overlap; the field did not settle.');
      left = this.step(left);
    }
    return runs.map(({ solution }) => solution!);
  }

  /** @returns puts back what is known now, so that a solution does not depend on what else was solved between */
  marked(): () => void {
    const [z, fields] = [this.z.slice(), this.fields.slice()];
    return () => {
      this.z = z.slice();
      this.fields = fields.slice();
      this.seen = [];
    };
  }

  private begun(problem: ReducedProblem): Run {
    const seen = this.seenBy(problem);
    const rest = problem.load.map((value, i) => value / seen.weights[i]!);
    const shares: number[] = [];
    seen.images.project(rest, shares);
    const run: Run = { problem, seen, rest, shares, size: 0, solution: null };
    run.size = norm(this.combined(run));
    return run;
  }

  /** One more direction for each, or its solution. @returns those that have none */
  private step(runs: readonly Run[]): readonly Run[] {
    const rests = runs.map(({ rest, seen }) => rest.map((value, i) => value * seen.weights[i]!));
    const problems = runs.map(({ problem }) => problem);
    const { z, field } = answers(this.chain, this.factors, problems, rests);
    const errors = z.map(norm);
    const open = runs.map((run, p) => {
      run.size = Math.max(run.size, errors[p]!);
      return errors[p]! > (run.problem.tolerance ?? TOLERANCE) * run.size;
    });
    const finish = (run: Run, p: number): void => {
      const x = this.combined(run);
      for (let i = 0; i < x.length; i++) x[i] = x[i]! + z[p]![i]!;
      run.solution = x;
    };
    runs.forEach((run, p) => {
      if (!open[p]) finish(run, p);
    });
    const kept = <T>(all: readonly T[]): readonly T[] => all.filter((_, p) => open[p]);
    const found = { z: kept(z), field: kept(field) };
    complete(this.chain, found);
    found.z.forEach((each, p) => this.keep(each, found.field[p]!));
    runs.forEach((run, p) => {
      if (!open[p]) return;
      this.catchUp(run.seen);
      const known = run.shares.length;
      run.seen.images.project(run.rest, run.shares);
      // A direction that tells nothing new: this is as far as rounding lets it come.
      const { tolerance = TOLERANCE } = run.problem;
      if (run.shares.length === known && errors[p]! <= SLACK * tolerance * run.size) finish(run, p);
    });
    return runs.filter(({ solution }) => !solution);
  }

  private keep(z: Float64Array, field: Float64Array): void {
    const scale = 1 / norm(z);
    this.z.push(z.map((value) => value * scale));
    this.fields.push(field.map((value) => value * scale));
  }

  private combined({ seen, shares, rest }: Run): Float64Array {
    return seen.images.combined(shares, this.z, rest.length);
  }

  private seenBy({ mu, across = mu, zones }: Permeabilities): Seen {
    const same = (one: ArrayLike<number>, other: ArrayLike<number>): boolean =>
      one.length === other.length && Array.from(one).every((value, b) => value === other[b]);
    const known = this.seen.find(
      (each) =>
        same(each.mu, mu) &&
        same(each.across ?? each.mu, across) &&
        Array.from(mu).every((_, b) => same(each.zones?.[b] ?? [], zones?.[b] ?? [])),
    );
    const seen = known ?? { ...rowsOf(this.chain, { mu, across, zones }), images: new Images() };
    this.seen = [seen, ...this.seen.filter((each) => each !== seen)].slice(0, KEPT_IMAGES);
    this.catchUp(seen);
    return seen;
  }

  /** Has it see the directions that came since. */
  private catchUp(seen: Seen): void {
    const { images } = seen;
    for (let j = images.count; j < this.z.length; j++)
      images.add(imageOf(this.chain, seen, this.z[j]!, this.fields[j]!));
  }
}
