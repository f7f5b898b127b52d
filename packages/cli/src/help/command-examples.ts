/** A call that can be typed as it stands, and what it is for. */
export type Examples = Readonly<Record<string, string>>;

/**
 * Examples of every command, by the words that call it. Their rig.yaml, trip.yaml, parts.yaml and export.csv are any such
 * files; the tests run each call with those of the examples folder.
 */
export const COMMAND_EXAMPLES: Readonly<Record<string, Examples>> = {
  new: {
    'stayput new --out rig.yaml': 'asks what you have, and writes a rig',
    'stayput new --chemistry AGM --capacity 200Ah --solar 300W --fridge none': 'answered beforehand, and printed',
    'stayput new --out rig.yaml --trip trip.yaml --place Porto --schema':
      'with a trip, and what an editor needs to complete and check both',
  },
  check: {
    'stayput check rig.yaml': 'what was understood, and what to look at',
    'stayput check rig.yaml trip.yaml --json': 'with a trip, as one JSON document',
    'stayput check rig.yaml --set "battery.capacity=200 Ah"': 'with one value changed for this run',
  },
  simulate: {
    'stayput simulate rig.yaml trip.yaml': 'the stops, drives and dates of a trip file',
    'stayput simulate rig.yaml --place Porto --from 2026-10-03 --days 14 --never-off':
      'a fortnight in Porto; exit code 1 if a load goes without power',
    'stayput simulate rig.yaml --place Porto --from "2026-10-03 18:00" --days 3 --start-soc 60':
      'from six in the evening on, with 60 % in the battery',
    'stayput simulate rig.yaml --at 41.7,-8.8 --from 2026-12-20 --weather dull --set battery.count=2':
      'two batteries under a run of overcast days',
    'stayput simulate rig.yaml trip.yaml --trace run.csv --json': 'every step as CSV in a file, the rest as JSON',
  },
  stay: {
    'stayput stay rig.yaml --place Porto': 'each month of the year at one place',
    'stayput stay rig.yaml --at 65,25.5 --months jun-aug --from-soc 70 --at-least 4d':
      'in summer, from 70 %; exit code 1 if one stay in ten is shorter than 4 days',
    'stayput stay rig.yaml trip.yaml --plot stay.svg': 'at each stop of a trip, drawn as a picture',
  },
  tonight: {
    'stayput tonight rig.yaml --place Porto --now 18:00 --soc 43 --sky "dull, dull, fair"':
      'at six in the evening, with 43 % and dull days to come',
    'stayput tonight rig.yaml --at 41.7,-8.8 --now "2026-10-10 18:00" --volts "13.1 V" --amps "-2 A" --use "60 W 3 h"':
      'by what the battery stands at under load, with 60 W for three hours more',
    'stayput tonight rig.yaml --place Porto --soc 70 --drive "10:00 for 1 h" --never-below 20 --chance 95 --json':
      'with a drive planned, as one JSON document; exit code 1 if the battery does not stay above 20 % with that chance',
  },
  yield: {
    'stayput yield rig.yaml --place Porto': 'each month of the year at one place',
    'stayput yield rig.yaml --at 65,25.5 --set "solar[0].tilt=40 deg" --plot months.svg': 'tilted, drawn as a picture',
  },
  size: {
    'stayput size rig.yaml parts.yaml trip.yaml': 'for a trip',
    'stayput size rig.yaml parts.yaml --place Porto --month oct': 'for a month at one place',
    'stayput size rig.yaml parts.yaml --place Porto --place Oslo --month jul --plot choices.svg':
      'for July at two places, drawn as a picture',
  },
  wires: {
    'stayput wires rig.yaml': 'every circuit of the rig',
    'stayput wires rig.yaml --set "loads.fridge.cable.section=4 mm2" --all-ok':
      'with another cable; exit code 1 if any circuit has one that does not do',
  },
  calibrate: {
    'stayput calibrate rig.yaml export.csv --at 40.1,18.4 --rig-out fitted.yaml':
      'your rig file with the fitted values in it, and a comment for each',
    'stayput calibrate rig.yaml export.csv --at 40.1,18.4 --fit solar,always-on --json':
      'two of the values, as one JSON document',
  },
  log: {
    'stayput log export.csv --zone Europe/Lisbon': 'what the log says, day by day',
    'stayput log export.csv --at 41.7,-8.8 --column voltage="Batt U" --tidy tidy.csv --rejects rejects.csv':
      'one column named, a clean copy, and what was left out',
  },
  sweep: {
    'stayput sweep rig.yaml --place Porto --vary "battery.capacity=50:50:200 Ah"': 'four capacities over a year',
    'stayput sweep rig.yaml trip.yaml --vary battery.chemistry=LFP,AGM --vary "battery.capacity=50:25:200 Ah" --out rows.csv --plot map.svg --answer unservedHours':
      'two quantities over a trip: rows in a file, and a map of the hours without power',
  },
  'sweep merge': {
    'stayput sweep merge all.csv part-1.csv part-2.csv': 'two parts to one file',
  },
  report: {
    'stayput report rig.yaml trip.yaml --out report.html': 'all of it for a trip, on one page',
    'stayput report rig.yaml --place Porto --from 2026-10-03 --days 14 --parts parts.yaml --out porto.html':
      'a fortnight at one place, with the parts that could be bought',
  },
  page: {
    'stayput page rig.yaml --place Porto --out stay.html': 'a rig at one place, to be dragged',
    'stayput page rig.yaml trip.yaml --out trip.html': 'with the stops and dates of a trip file',
    'stayput page --out new.html': 'from nothing: the rig is written in the page',
  },
  compare: {
    'stayput compare rig.yaml export.csv --at 41.7,-8.8': 'what the log shows, against what the rig should do there',
    'stayput compare rig.yaml export.csv --place Porto --from 2026-03-10 --to 2026-03-31 --json':
      'some of its days, as one JSON document',
  },
  completion: {
    'stayput completion bash > ~/.local/share/bash-completion/completions/stayput': 'bash, for you alone',
    'stayput completion zsh > ~/.zfunc/_stayput': 'zsh, where ~/.zfunc stands in your fpath',
    'stayput completion fish > ~/.config/fish/completions/stayput.fish': 'fish',
  },
  man: {
    'stayput man > stayput.1': 'to be read with: man -l stayput.1',
  },
  help: {
    'stayput help simulate': 'the options of a command',
    'stayput help units': 'a topic',
    'stayput help rig battery': 'one part of a rig',
  },
};
