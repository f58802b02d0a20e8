/** What can be typed. */
export const usage = `Usage:
  npm run -s headless -- run FILE [--json | --csv OUT.csv] [--set PATH=VALUE ...] [--strict] [--timing]
  npm run -s headless -- sweep FILE --vary PATH=FROM..TO/N [--vary ...] [--set ...] [--share I/N] [--json] [--csv OUT.csv]
  npm run -s headless -- modes FILE [--set PATH=VALUE ...] [--json]
  npm run -s headless -- checks

run      runs the scenario in FILE ('-': standard input) and prints what came of it
  --json            one object, SI units
  --csv OUT.csv     all samples into a file
  --set PATH=VALUE  changes a field first, for instance --set "line/infeed dancer/mass=6 kg"
  --strict          a broken limit counts as an error
  --timing          tells the computing time too
sweep    runs FILE once for each value and prints a row of figures for each case
  --vary PATH=FROM..TO/N
                    takes a field from FROM to TO in N values, with units: --vary "line/infeed dancer/mass=2 kg..10 kg/5";
                    with several every combination is run
  --share I/N       only share I of N, for instance to use several processors; the shares together are all cases
  --json, --csv     all figures, also those of single spans, in SI units
modes    tells how the line of FILE swings and dies away about its steady state, and the margins of its loops
checks   computes every check and compares it with its published or derived figure

Exit code: 0 finished, 1 a limit broken (with --strict) or a check failed, 2 refused, 3 failed, 4 wrong usage`
