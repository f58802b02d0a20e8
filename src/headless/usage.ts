/** What can be typed. */
export const usage = `Usage:
  npm run -s headless -- run FILE [--json | --csv OUT.csv] [--set PATH=VALUE ...] [--strict] [--timing]
  npm run -s headless -- roll FILE [--json] [--set PATH=VALUE ...] [--strict]
  npm run -s headless -- sweep FILE --vary PATH=FROM..TO/N [--vary ...] [--set ...] [--share I/N] [--json] [--csv OUT.csv]
  npm run -s headless -- wrinkle FILE [--set PATH=VALUE ...] [--json]
  npm run -s headless -- modes FILE [--set PATH=VALUE ...] [--json]
  npm run -s headless -- checks

run      runs the scenario in FILE ('-': standard input) and prints what came of it
  --json            one object, SI units
  --csv OUT.csv     all samples into a file
  --set PATH=VALUE  changes a field first, for instance --set "line/infeed dancer/mass=6 kg"
  --strict          a broken limit counts as an error
  --timing          tells the computing time too
roll     winds the roll of the scenario in FILE: pressure and stress in it, its limits, a table for the drive, a better taper;
         where the winder states "ringAt", the scenario is run first and put in as a ring
  --json, --set, --strict as for run
sweep    runs FILE once for each value and prints a row of figures for each case
  --vary PATH=FROM..TO/N
                    takes a field from FROM to TO in N values, with units: --vary "line/infeed dancer/mass=2 kg..10 kg/5";
                    with several every combination is run
  --share I/N       only share I of N, for instance to use several processors; the shares together are all cases
  --json, --csv     all figures, also those of single spans, in SI units
wrinkle  runs FILE and prints how well each roller must be aligned so that its span runs flat, worst first
modes    tells how the line of FILE swings and dies away about its steady state, and the margins of its loops
checks   computes every check and compares it with its published or derived figure

Exit code: 0 finished, 1 a limit broken (with --strict) or a check failed, 2 refused, 3 failed, 4 wrong usage`
