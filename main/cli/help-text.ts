export const helpText = `Tiphold measures a dog's ride over the seesaw from a phone clip.

tiphold measure CLIP [--marks MARKS.json] [--board BOARD.json] --out DIR
    Measures every ride in the clip and writes for each, into DIR, ride.json (the numbers) and ride.html (the report);
    for further rides ride-2.json and so on. Without --marks the program looks for the plank and stops if it is not
    sure of it; without --board it assumes a plank of 3.66 m, and lengths are provisional.
    --slow-motion F    how many times slower the clip plays than it was filmed, for instance 8
    --from S --to S    only this part of the clip, in seconds
    --pdf              also writes the report as ride.pdf
    --overlay          also writes overlay.mp4, the clip with what was followed drawn on it

tiphold droptest CLIP... [--marks MARKS.json...] [--board BOARD.json] --mass-kg KG... --out DIR
    Measures how long the board takes to land under a weight and writes droptest.json and droptest.html. For several
    drops of one board give clips, marks and weights in the same order. Without --marks and --board it does as measure
    does: it looks for the plank, and assumes one of 3.66 m.
    --mass-at-m M...   where the weight stands, metres from the entry end; the middle of the down contact if absent
    --pdf              also writes the report as droptest.pdf

tiphold add CLIP... --dog NAME --board NAME
    Takes clips into the library and measures them, several at a time; the plank is marked as in a clip of the same
    place, or found by the program. Started again, it goes on with what is not measured yet.
    --library DIR      another library than your own

tiphold backup --out FILE.zip [--library DIR]
    Writes the whole library into one file. Clips in folders of your own are not in it.

tiphold restore FILE.zip --library DIR
    Puts a backup into an empty folder, and checks every file of it.

tiphold report --dog NAME [--rides RIDES.json | --library DIR] --out DIR
    Says what many rides of one dog say together: what changed and since when, how often it left early, whether it
    waits for the landing or counts; from your library unless told otherwise. Writes dog.html and dog.pdf to read, dog.json, rides.json and rides.csv.

tiphold showcheck --dog NAME (--board NAME | --drop-time-s S) --rules uk|fci|akc|own
                  [--rides RIDES.json | --library DIR] --out DIR
    Says how likely the dog leaves early or misses the down contact on a board at a show. Writes
    showcheck.html and showcheck.pdf to read, showcheck.json and showcheck.csv.

tiphold boardcheck DROPTEST.json... --board BOARD.json --rules uk|uk-old|fci|akc|own --out DIR
    Checks a board by its drop tests against a rule set: how long it falls, whether that is in time, and what to fasten
    where if it is not. Writes boardcheck.json, boardcheck.html and boardcheck.pdf. Give all drops of the board, best with two weights.
    --rules own        your own rules, as your library's settings hold them (showcheck too)
    --library DIR      another library than your own
    --plank-kg KG      the weight of the plank without its base, if you know it: one drop may then do

tiphold doctor
    Says which ffmpeg and which network are in use, and why.

--progress             shows the progress even when the output is not a terminal
--help, --version

Exit codes: 0 measured (parts may be withheld, with the reason), 2 wrong usage or a bad marks or board file,
3 the clip cannot be read, 4 the clip was read and nothing could be measured, 130 cancelled.
`
