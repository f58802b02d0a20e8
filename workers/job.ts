/** What a job is: a named pure computation over a list of inputs, which share what they have in common. */

/** A computation in small steps, so that a cancel is heard between them; each step tells the share that is done. */
export type Work<Output> = Generator<number, Output>

/** Does once what all inputs share, then computes one input after another, at once or in steps. */
export type Job<Common, Input, Output> = (common: Common) => (input: Input) => Work<Output> | Output

/** Jobs by name. `never`: a registry holds jobs of any input. */
export type Registry = Readonly<Record<string, (common: never) => (input: never) => unknown>>

type AnyJob = Registry[string]
export type CommonOf<J extends AnyJob> = Parameters<J>[0]
export type InputOf<J extends AnyJob> = Parameters<ReturnType<J>>[0]
type Done<Answer> = Answer extends Generator<number, infer Output> ? Output : Answer
export type OutputOf<J extends AnyJob> = Done<ReturnType<ReturnType<J>>>
