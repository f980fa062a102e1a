// Short help that needs nothing to be installed or built: for whoever wants to know first what a command does.

const HEAD = 'Advisory only: the limits of the machine and tool makers govern, and local rules.';

const START = `Usage: npm start -- [options]

Runs everything with an invented plant of 12 spindles, for a first look. The first start installs and builds what is missing.
${HEAD}

  --data <dir>           the data directory (default: data/demo)
  --clock <rate>         how fast the clock runs: 1 is real time, 60 a minute a second (default: 1)
  --seed <number>        the invention of the plant: the same number gives the same plant (default: 1)
  --history-days <days>  invented days before today, loaded at the first start (default: 90)
  --http-port <port>     port of the dashboard (default: 8470, or a free one)
  --mqtt-port <port>     port of the embedded broker (default: 18830, or a free one)

Once it is built, --help lists every option.
`;

const RUN = `Usage: npm run counterpoise -- VERB [options]

Relates what balancing benches measure to what spindles do, and keeps holds until what releases them has happened.
${HEAD}

  serve              run the service for a plant
  start              run everything with an invented plant, for a first look
  enrol DEVICE       make the credential of a device
  devices            list the devices with a credential
  revoke DEVICE      end a device's credential at once
  rehearse FILE      take a recording through intake and rules, offline
  import FILE        play a recording into a journal
  export             print a journal as a recording
  headroom           what running slower than programmed gives away, by spindle, with its inputs
  replay             decide a journal anew: the same, or what other limits would have changed
  verify             check that what was decided and done is as it was written down
  permissible        the residual unbalance that a mass may keep at a speed for a grade
  judge              a measured residual against what is permitted, with its error
  index              index readings into the assembly's part and the bench's
  planes             static and couple unbalance; a result in two other planes
  combine            an assembly predicted from its parts
  trim               balance in the machine, from trial runs
  correct FILE       ways to correct a measured unbalance, best first
  bearing-load       the unbalance that a share of a bearing's rating permits
  reference          densities, interfaces and grades, each with its source
  analyse FILE       what a recording of a hand-held instrument says
  limits FILE        limits of spindles from a file: checked, shown, or sent to a service
  rules              what a rule set says, the defaults, or what is in force; puts one in force
  message-reference  print the reference of all messages

The first run of a verb installs and builds what is missing. Once it is built, --help lists every option, also behind a verb.
`;

/** Undefined where no help is asked for, or the command has none of its own. */
export function shortHelp(name, args) {
  const end = args.indexOf('--');
  const own = end < 0 ? args : args.slice(0, end);
  if (!own.some((arg) => arg === '--help' || arg === '-h')) return undefined;
  return { start: START, run: RUN }[name];
}
