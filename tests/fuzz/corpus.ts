import { readFileSync } from 'node:fs';
import { join } from 'node:path';

/** Sound files of every kind that is read, from which the fuzz begins. */
export interface Corpus {
  readonly rig: readonly string[];
  readonly trip: readonly string[];
  readonly parts: readonly string[];
  readonly weather: readonly string[];
  readonly log: readonly string[];
}

export function corpusOf(root: string): Corpus {
  const read = (name: string) => readFileSync(join(root, name), 'utf8');
  const head = (name: string, lines: number) => read(name).split('\n').slice(0, lines).join('\n');
  return {
    rig: ['heron', 'heron-agm', 'thin-cable', 'log-parked'].map((name) => read(`examples/${name}.yaml`)),
    trip: ['coast-measured', 'north-west-coast', 'frost'].map((name) => read(`examples/${name}.yaml`)),
    parts: [read('examples/parts.yaml')],
    weather: [
      head('examples/coast-weather-invented.csv', 80),
      read('tests/fixtures/weather/invented-station.csv'),
      head('tests/fixtures/weather/invented-quarter-hours.epw', 120),
      hourlyEpw(5),
      hourlyTmy3(4),
      QUOTED_TABLE,
    ],
    log: [head('examples/log-parked.csv', 200), DAY_FIRST_LOG, UNITS_ROW_LOG, NEWEST_FIRST_LOG, TIDY_LOG],
  };
}

const two = (value: number) => String(value).padStart(2, '0');
const light = (hour: number) => Math.max(0, Math.round(800 * Math.sin((Math.PI * (hour - 6.5)) / 12)));

/** Invented hours in the layout of the EnergyPlus weather file. */
function hourlyEpw(days: number): string {
  const lines = [
    'LOCATION,Nowhere,-,XXX,invented,000000,40.00,-60.00,-4.0,100.0',
    'DESIGN CONDITIONS,0',
    'GROUND TEMPERATURES,0',
    'DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31',
  ];
  for (let day = 1; day <= days; day++)
    for (let hour = 1; hour <= 24; hour++)
      lines.push(
        `1995,7,${day},${hour},0,?9,18.5,5,60,101000,0,0,300,${light(hour)},${light(hour)},90,0,0,0,0,180,2.5,5,5,20,77777,9,0,0`,
      );
  return lines.join('\n');
}

/** Invented hours in the layout of the TMY3 table. */
function hourlyTmy3(days: number): string {
  const lines = [
    '000000,"NOWHERE",XX,-4.0,40.000,-60.000,100',
    'Date (MM/DD/YYYY),Time (HH:MM),ETR (W/m^2),GHI (W/m^2),DNI (W/m^2),DHI (W/m^2),Dry-bulb (C),Wspd (m/s)',
  ];
  for (let day = 1; day <= days; day++)
    for (let hour = 1; hour <= 24; hour++)
      lines.push(`07/${two(day)}/1995,${two(hour)}:00,0,${light(hour)},${light(hour)},90,18.5,2.5`);
  return lines.join('\n');
}

const QUOTED_TABLE = `"invented, quoted"
"time (UTC+01:00), hour end","GHI W/m2","air temperature °F"
"2026-07-05 11:00","612","70"
"2026-07-05 12:00","655","72"
"2026-07-05 13:00","","73"
"2026-07-05 14:00","601","-9999"
`;

const DAY_FIRST_LOG = `Invented monitor;;;
Datum;Zeit;Battery voltage [V];Current [A];State of charge [%]
09.04.2026;23:50:00;13,21;-1,2;64
10.04.2026;00:00:00;13,20;-1,3;64
10.04.2026;00:10:00;;-1,3;63
10.04.2026;00:20:00;13,19;"-1,4";63
31.12.1999;23:59:59;13,19;-1,4;63
10.04.2026;00:30:00;13,18;-1,4;62
`;

const UNITS_ROW_LOG = `timestamp,batt,load,pv power,temp
UTC,mV,mA,W,°F
1770000000,13210,1200,0,68
1770000600,13200,1210,12,68
1770000600,13200,1210,12,68
1770001200,65535,1190,40,69
1770001800,13250,,85,ERR
`;

const NEWEST_FIRST_LOG = `time|voltage (V)|power (W)|note
4 May 2026, 10:30 pm|12.9|-14|"two
lines"
4 May 2026, 10:20 pm|12.9|-15|
4 May 2026, 10:10 pm|12.9|-15|x
4 May 2026, 10:00 pm|13.0|-16|
`;

const TIDY_LOG = `time,voltage_v,current_a,soc
2026-04-10T00:00:00Z,13.2,-1,0.64
2026-04-10T00:10:00Z,13.2,-1.1,0.63
2026-04-10T00:20:00Z,13.1,-1,0.63
`;
