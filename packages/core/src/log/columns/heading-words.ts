/**
 * Words of the trade in headings, without accents: English, German, French, Spanish, Italian, Dutch, Portuguese, Swedish and
 * Polish, from general dictionaries of electrical terms. Languages that join words are matched at the end of the joined word.
 */
export const VOLTAGE =
  /\b(volt\w*|tension\w*|tensao|tensoes|voltaje|\w*spannung(en)?|\w*spanning(en)?|napieci[ae]|u|v|ubat\w*)\b/;
export const POWER =
  /\b(power|watt\w*|\w*leistung(en)?|puissances?|potencias?|potenz[ae]|\w*vermogens?|\w*effekt(er)?|moc|mocy|p|w|psun)\b/;
export const CURRENT =
  /\b(current|amp\w*|intensidad|intensite|\w*strom|stromstarke|courants?|corrientes?|corrent[ei]|\w*stroom|prad\w*|i|a|ibat\w*)\b/;
export const TEMPERATURE = /\b(temp\w*|\w*temperatu+r\w*|t)\b/;
export const IRRADIANCE =
  /\b(irradi\w*|insolation|radiation|ghi|poa|einstrahlung|instraling|naslonecznienie|instralning)\b/;

export const SOC =
  /\b(soc|state of charge|charge (state|level|left)|charge 0 (to )?1|battery (level|charge|percent\w*)|(\w*ladezustand|ladestand|fullstand)|(etat|niveau) de charge|(estado|nivel) (de|da) carga|(stato|livello) (di|de) (carica|ricarica)|laad(toestand|niveau|graad)|laddnings(tillstand|niva|grad)|(stan|poziom) naladowania)\b/;
/** Beside a percent sign alone. */
export const CHARGE_PERCENT =
  /\b(charge|charged|fill|level|ladung|geladen|carga|carica|lading|laddning|naladowan\w*|batt?\w*|bat|ubat|house|leisure|service|shunt|bank|pack|bms|accu\w*|akku\w*|akumulator\w*)\b/;

export const SOLAR =
  /\b(solar\w*|pv|panels?|array|photovolt\w*|mppt|sun|psun|modul\w*|sonne\w*|solaires?|panneaux?|panel\w*|placas?|fotovolt\w*|pannell\w*|zon\w*|paneel\w*|panelen|paine(l|is)|sol|sol(cell\w*|effekt\w*|el|laddning\w*|strom\w*|spanning\w*|panel\w*)|slonecz\w*|fotowolt\w*)\b/;
/** The words say which side of the controller a solar current is of. */
export const AT_PANEL =
  /\b(panels?|pv|array|modul\w*|panneaux?|panel\w*|placas?|pannell\w*|paneel\w*|panelen|paine(l|is)|solcell\w*)\b/;
export const AT_BATTERY =
  /\b(charg\w*|to (bank|battery|batt)|\w*ladestrom|carga|carica|ricarica|\w*laadstroom|\w*ladd\w*|ladowani\w*)\b/;
export const LOAD =
  /\b(loads?|consum\w*|consomm\w*|output|\w*verbrauch\w*|last(leistung|strom)|verbruik\w*|belasting|forbruk\w*|belastning|carich?i|carico|utenz[ae]|pobor\w*|obciazeni\w*|odbiornik\w*)\b/;
export const ALTERNATOR =
  /\b(alternator\w*|dc ?dc|engine|lichtmaschine\w*|alternateur|alternador|alternatore|dynamo\w*)\b/;
export const BATTERY =
  /\b(batt?|batt?er\w*|batt?ri\w*|bat|ubat|ibat|house|leisure|service|shunt|bank|pack|bms|accu\w*|akku\w*|akumulator\w*)\b/;
export const AIR =
  /\b(ambient\w*|air|outside|outdoors?|out|aussen\w*|umgebung\w*|exterieure?|exterior|estern[ao]|buiten\w*|utomhus\w*|ute\w*|zewnetrzn\w*)\b/;

export const CABIN =
  /\b(inside|cabin|room|living|indoors?|innen\w*|kabine\w*|interieure?|cabine|habitacle|interior|habitaculo|intern[ao]|abitacolo|binnen\w*|inomhus|kupe\w*|wewnetrzn\w*|kabin\w*)\b/;

/** One direction of the battery's flow. */
export const CHARGING =
  /\b(charg(e|ed|ing)|(ein)?lade(strom|leistung)|geladen|charge|carga|carica|ricarica|laad(stroom|vermogen)|ladd(strom|effekt|ning\w*)|ladowani\w*)\b/;
export const DISCHARGING =
  /\b(discharg\w*|entlade(strom|leistung)|entlad\w*|decharge|descarga|scarica|ontlaad\w*|ontlad\w*|urladd\w*|rozladowan\w*)\b/;

/** Words of counters of energy from the sun, and of charge or energy that has gone in. */
export const YIELD =
  /\b(yield|harvest\w*|\w*ertrag|opbrengst|produccion|produzione|producao|produktion|rendement|uzysk)\b/;
export const CHARGED =
  /\b(charged|charging|\w*geladen\w*|charge energy|energy charged|cargad\w*|caricat\w*|carregad\w*|chargee|laddad\w*|naladowan\w*)\b/;
/** Of a counter of charge: it goes down and up with the battery. */
export const NET_CHARGE =
  /\b(below full|consumed|used|left|remaining|drawn|to full|verbraucht\w*|entnommen\w*|consomm\w*|consumid\w*|consumat\w*|verbruikt\w*|forbrukad\w*|zuzyt\w*)\b/;

export const NOT_MEASURED =
  /\b(start(er)?|vehicle|chassis|min|max|minimum|maximum|minim[ao]|maxim[ao]|maximale?|minimale?|lowest|highest|peak|delta|target|set ?point|limit|alarm|error|status|mode|fault|mains|ac|grid|shore|inverter|mid ?point|aux\w*|rated|nominal\w*|yield|ertrag|total\w*|gesamt\w*|cumul\w*|today|daily|heute|hoy|oggi|vandaag|hoje|idag|dzis|history|humidity|rh|duty|signal|speed|remaining|to go|cycles?|zyklen|capacity|kapazitat|capacite|capacidad\w*|capacita|capaciteit)\b/;
export const NOT_BATTERY_HEAT =
  /\b(inside|cabin|room|fridge|freezer|panel\w*|module?|solar\w*|mppt|charger|water|innen\w*|interieure?|interior|intern[ao]|binnen\w*|inomhus|wewnetrzn\w*|kuhl\w*|frigo|nevera)\b/;

/**
 * What may stand beside "voltage", "current" or "power" of the battery and names nothing else: articles, how it was measured. Any other
 * word says whose it is ("Fridge current"), and that is not the battery's.
 */
export const NEUTRAL =
  /^(the|of|and|in|into|out|from|to|at|on|per|de|du|des|la|le|les|el|los|del|di|della|do|da|der|die|das|van|het|av|dc|cc|net|netto|main|total|measured|measurement|actual|value|val|avg|average|mean|instant\w*|momentan\w*|moment\w*|aktuell\w*|actuel\w*|actual\w*|attual\w*|huidig\w*|nuvarande|biezac\w*|now|raw|reading|sensor|channel|ch|log|data|system\w*|syst|bus|flow|level|terminal\w*|signed|sense|pos\w*|neg\w*|charg\w*|disch\w*|plus|minus|abs\w*|wert|mittel\w*|medi[ao]|moyen\w*|gemiddeld\w*|srednia|direct|continu\w*|starke|gleich|no|nr|number|id)$/;

/** A stamp, or a time of day beside a date. */
export const STAMP =
  /\b(zeitstempel|zeitpunkt|datum (und )?(zeit|uhrzeit)|horodatage|date (et )?heure|fecha (y )?hora|marca de tiempo|data (e )?ora|data (e )?hora|carimbo|tijdstip|tijdstempel|datum (en )?tijd|tidpunkt|tidsstampel|datum (och )?(tid|klockslag)|data (i )?(godzina|czas)|znacznik czasu|when|moment|begin)\b/;
export const DATE = /^(datum|fecha|data|dag)\b/;
export const TIME =
  /^(zeit|uhrzeit|hora|heure|ora|tijd|tid|klockslag|godzina|czas|clock|epoch|unix ?(time|s|seconds)?)\b|^(t|local|local time|moment)$/;

/** First letters of the months in these languages, without accents, that English does not have. */
export const MONTH_LETTERS: Readonly<Record<string, number>> = {
  gen: 1,
  ene: 1,
  sty: 1,
  fev: 2,
  lut: 2,
  mrz: 3,
  maer: 3,
  mrt: 3,
  avr: 4,
  abr: 4,
  kwi: 4,
  mai: 5,
  mei: 5,
  maj: 5,
  mag: 5,
  juin: 6,
  giu: 6,
  cze: 6,
  juil: 7,
  lug: 7,
  lip: 7,
  aou: 8,
  ago: 8,
  sie: 8,
  set: 9,
  wrz: 9,
  okt: 10,
  ott: 10,
  out: 10,
  paz: 10,
  lis: 11,
  dez: 12,
  dic: 12,
  gru: 12,
};
