-- A log as the first version wrote it: one take of six notes, the third wrong at first. Never change this file.
PRAGMA application_id = 1215262053;
BEGIN TRANSACTION;
CREATE TABLE answer (
    judgement INTEGER NOT NULL REFERENCES judgement,
    n INTEGER NOT NULL,
    k INTEGER NOT NULL,
    i INTEGER NOT NULL,
    sounding INTEGER NOT NULL,
    PRIMARY KEY (judgement, n, k)
) WITHOUT ROWID;
INSERT INTO "answer" VALUES(1,1,1,1,53);
INSERT INTO "answer" VALUES(1,2,1,2,55);
INSERT INTO "answer" VALUES(1,3,1,3,58);
INSERT INTO "answer" VALUES(1,3,2,4,57);
INSERT INTO "answer" VALUES(1,4,1,5,58);
INSERT INTO "answer" VALUES(1,5,1,6,60);
INSERT INTO "answer" VALUES(1,6,1,7,54);
CREATE TABLE asked (
    asked INTEGER PRIMARY KEY,
    digest TEXT NOT NULL UNIQUE,
    spans TEXT NOT NULL
);
INSERT INTO "asked" VALUES(1,'99dc77409840d91ac1995fa1869f6fe7b642f32c530847e266960bbf814e38d3','[["0",4,4],["4",4,4]]');
CREATE TABLE asked_note (
    asked INTEGER NOT NULL REFERENCES asked,
    n INTEGER NOT NULL,
    bar TEXT NOT NULL,
    onset TEXT NOT NULL,
    length TEXT NOT NULL,
    written TEXT NOT NULL,
    sounding INTEGER NOT NULL,
    string INTEGER,
    fret INTEGER,
    reach TEXT,
    sign INTEGER,
    courtesy INTEGER NOT NULL,
    altered_by TEXT NOT NULL,
    signature INTEGER NOT NULL,
    heads TEXT NOT NULL,
    graces TEXT NOT NULL,
    PRIMARY KEY (asked, n)
) WITHOUT ROWID;
INSERT INTO "asked_note" VALUES(1,1,'1','0','1','F4',53,5,8,'in position',NULL,0,'nothing',0,'[[0,0]]','[]');
INSERT INTO "asked_note" VALUES(1,2,'1','1','1','G4',55,4,5,'in position',NULL,0,'nothing',0,'[[0,1]]','[]');
INSERT INTO "asked_note" VALUES(1,3,'1','2','1','A4',57,4,7,'in position',NULL,0,'nothing',0,'[[0,2]]','[]');
INSERT INTO "asked_note" VALUES(1,4,'1','3','1','Bb4',58,4,8,'in position',NULL,0,'signature',-1,'[[0,3]]','[]');
INSERT INTO "asked_note" VALUES(1,5,'2','4','2','C5',60,3,5,'in position',NULL,0,'nothing',0,'[[1,0]]','[]');
INSERT INTO "asked_note" VALUES(1,6,'2','6','2','F#4',54,4,4,'stretch',1,0,'accidental',0,'[[1,1]]','[]');
CREATE TABLE bars (
    bars INTEGER PRIMARY KEY,
    passage_key TEXT NOT NULL,
    title TEXT NOT NULL,
    first TEXT NOT NULL,
    last TEXT NOT NULL,
    start INTEGER NOT NULL,
    stop INTEGER NOT NULL,
    UNIQUE (passage_key, title, first, last, start, stop)
);
INSERT INTO "bars" VALUES(1,'b1529965eb79159fba6663b5bb73ea7d','The Ford at Low Water','1','2',0,2);
CREATE TABLE device (
    device INTEGER PRIMARY KEY,
    uuid TEXT NOT NULL UNIQUE,
    name TEXT NOT NULL
);
INSERT INTO "device" VALUES(1,'c7b0a1de-2f43-4f0e-8a57-6a9f0f3b7d22','the old laptop');
CREATE TABLE event (
    judgement INTEGER NOT NULL REFERENCES judgement,
    k INTEGER NOT NULL,
    kind TEXT NOT NULL,
    n INTEGER,
    time_ms REAL NOT NULL,
    PRIMARY KEY (judgement, k)
) WITHOUT ROWID;
CREATE TABLE help (
    help INTEGER PRIMARY KEY,
    take INTEGER NOT NULL REFERENCES take,
    n INTEGER NOT NULL,
    step TEXT NOT NULL,
    at_us INTEGER NOT NULL
);
INSERT INTO "help" VALUES(1,1,5,'letter',5500000);
CREATE TABLE instrument (
    instrument INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    kind TEXT NOT NULL,
    UNIQUE (name, kind)
);
INSERT INTO "instrument" VALUES(1,'pickup','guitar');
CREATE TABLE judgement (
    judgement INTEGER PRIMARY KEY,
    take INTEGER NOT NULL REFERENCES take,
    judge INTEGER NOT NULL,
    ended_utc TEXT NOT NULL,
    outcome TEXT NOT NULL
);
INSERT INTO "judgement" VALUES(1,1,1,'2026-11-25T07:31:00.000000Z','finished');
CREATE TABLE migration (
    migration INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE,
    applied_utc TEXT NOT NULL
);
INSERT INTO "migration" VALUES(1,'takes','2026-11-25T07:30:00.000000Z');
CREATE TABLE neck_map (
    neck_map INTEGER PRIMARY KEY,
    position INTEGER NOT NULL,
    tuning TEXT NOT NULL,
    open_strings TEXT NOT NULL,
    frets INTEGER NOT NULL,
    reading TEXT NOT NULL,
    choices TEXT NOT NULL,
    UNIQUE (position, tuning, open_strings, frets, reading, choices)
);
INSERT INTO "neck_map" VALUES(1,5,'standard','[64,59,55,50,45,40]',22,'guitar','[]');
CREATE TABLE played (
    take INTEGER NOT NULL REFERENCES take,
    i INTEGER NOT NULL,
    at_us INTEGER NOT NULL,
    sounding INTEGER NOT NULL,
    string INTEGER,
    fret INTEGER,
    velocity INTEGER NOT NULL,
    source INTEGER NOT NULL REFERENCES source,
    PRIMARY KEY (take, i)
) WITHOUT ROWID;
INSERT INTO "played" VALUES(1,1,1000000,53,5,8,80,1);
INSERT INTO "played" VALUES(1,2,2000000,55,4,5,80,1);
INSERT INTO "played" VALUES(1,3,3000000,58,4,8,80,1);
INSERT INTO "played" VALUES(1,4,4000000,57,4,7,80,1);
INSERT INTO "played" VALUES(1,5,5000000,58,4,8,80,1);
INSERT INTO "played" VALUES(1,6,6000000,60,3,5,80,1);
INSERT INTO "played" VALUES(1,7,7000000,54,4,4,80,1);
CREATE TABLE player (
    player INTEGER PRIMARY KEY,
    uuid TEXT NOT NULL UNIQUE,
    name TEXT NOT NULL
);
INSERT INTO "player" VALUES(1,'5a0c5b36-6d3c-4d8f-9d53-0c1d7a5f2e11','Ada');
CREATE TABLE source (
    source INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE
);
INSERT INTO "source" VALUES(1,'pickup');
CREATE TABLE take (
    take INTEGER PRIMARY KEY,
    device INTEGER NOT NULL REFERENCES device,
    number INTEGER NOT NULL,
    player INTEGER NOT NULL REFERENCES player,
    started_utc TEXT NOT NULL,
    bars INTEGER NOT NULL REFERENCES bars,
    asked INTEGER NOT NULL REFERENCES asked,
    neck_map INTEGER NOT NULL REFERENCES neck_map,
    instrument INTEGER NOT NULL REFERENCES instrument,
    stage TEXT NOT NULL,
    pulse TEXT NOT NULL,
    tempo_bpm REAL,
    beat_length TEXT NOT NULL,
    swing REAL NOT NULL,
    waits INTEGER NOT NULL,
    wants_home INTEGER NOT NULL,
    pitch_counts INTEGER NOT NULL,
    window_ms REAL,
    settling INTEGER NOT NULL,
    sighting INTEGER NOT NULL,
    heard INTEGER NOT NULL,
    known_by_ear INTEGER,
    self_marked INTEGER NOT NULL,
    UNIQUE (device, number)
);
INSERT INTO "take" VALUES(1,1,1,1,'2026-11-25T07:30:00.000000Z',1,1,1,1,'places','free',NULL,'1',1.0,1,0,1,NULL,0,1,0,NULL,0);
CREATE TABLE verdict (
    judgement INTEGER NOT NULL REFERENCES judgement,
    n INTEGER NOT NULL,
    verdict TEXT NOT NULL,
    cause TEXT,
    octave_off INTEGER NOT NULL,
    offset_ms REAL,
    time_to_find_ms REAL,
    PRIMARY KEY (judgement, n)
) WITHOUT ROWID;
INSERT INTO "verdict" VALUES(1,1,'clean',NULL,0,NULL,1000.0);
INSERT INTO "verdict" VALUES(1,2,'clean',NULL,0,NULL,1000.0);
INSERT INTO "verdict" VALUES(1,3,'wrong pitch','slip',0,NULL,2000.0);
INSERT INTO "verdict" VALUES(1,4,'clean',NULL,0,NULL,1000.0);
INSERT INTO "verdict" VALUES(1,5,'clean',NULL,0,NULL,1000.0);
INSERT INTO "verdict" VALUES(1,6,'clean',NULL,0,NULL,1000.0);
CREATE INDEX take_by_day ON take (player, started_utc);
CREATE INDEX take_by_bars ON take (bars, player);
CREATE INDEX help_by_take ON help (take);
CREATE INDEX judgement_by_take ON judgement (take);
CREATE TRIGGER device_no_update BEFORE UPDATE ON device
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER device_no_delete BEFORE DELETE ON device
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER player_no_update BEFORE UPDATE ON player
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER player_no_delete BEFORE DELETE ON player
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER bars_no_update BEFORE UPDATE ON bars
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER bars_no_delete BEFORE DELETE ON bars
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER neck_map_no_update BEFORE UPDATE ON neck_map
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER neck_map_no_delete BEFORE DELETE ON neck_map
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER asked_no_update BEFORE UPDATE ON asked
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER asked_no_delete BEFORE DELETE ON asked
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER asked_note_no_update BEFORE UPDATE ON asked_note
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER asked_note_no_delete BEFORE DELETE ON asked_note
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER instrument_no_update BEFORE UPDATE ON instrument
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER instrument_no_delete BEFORE DELETE ON instrument
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER take_no_update BEFORE UPDATE ON take
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER take_no_delete BEFORE DELETE ON take
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER source_no_update BEFORE UPDATE ON source
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER source_no_delete BEFORE DELETE ON source
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER played_no_update BEFORE UPDATE ON played
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER played_no_delete BEFORE DELETE ON played
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER help_no_update BEFORE UPDATE ON help
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER help_no_delete BEFORE DELETE ON help
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER judgement_no_update BEFORE UPDATE ON judgement
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER judgement_no_delete BEFORE DELETE ON judgement
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER verdict_no_update BEFORE UPDATE ON verdict
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER verdict_no_delete BEFORE DELETE ON verdict
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER answer_no_update BEFORE UPDATE ON answer
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER answer_no_delete BEFORE DELETE ON answer
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER event_no_update BEFORE UPDATE ON event
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
CREATE TRIGGER event_no_delete BEFORE DELETE ON event
BEGIN SELECT RAISE(ABORT, 'the practice log is only added to'); END;
COMMIT;
