//! The same rows in PostgreSQL: the tables that raw SQLite has, with the same keys and indexes, in one transaction
//! that is on the disk when it ends.

use crate::server::Server;
use exchange::Address;
use ledger::NewFact;
use ledger::facts::{Fact, TimeEntry};
use postgres::{Client, NoTls};
use std::time::{Duration, Instant};

pub(crate) struct Rows {
    client: Client,
}

const TABLES: &str = "
    CREATE TABLE entry (id bytea PRIMARY KEY, device text NOT NULL, device_seq bigint NOT NULL,
        recorded_at text NOT NULL, person bytea NOT NULL, kind text NOT NULL, prev_hash bytea NOT NULL,
        open bytea, sealed bytea, salt bytea,
        hash bytea NOT NULL, UNIQUE (device, device_seq));
    CREATE TABLE time_entry (id bytea PRIMARY KEY, date date NOT NULL, person bytea NOT NULL, job bytea NOT NULL,
        code bytea NOT NULL, hours_e4 bigint NOT NULL, crew bytea, caused_overtime boolean NOT NULL, condition bytea);
    CREATE INDEX time_entry_by_person ON time_entry (person, date, hours_e4);
    CREATE INDEX time_entry_by_job ON time_entry (job);";

/// So many rows go in one statement.
const AT_ONCE: usize = 1000;

impl Rows {
    pub(crate) fn of(server: &Server) -> Rows {
        let Address::PostgreSql(address) = &server.address else { panic!("the server is no database") };
        let mut client = postgres::Config::new()
            .host("127.0.0.1")
            .port(address.port().unwrap())
            .user("nell")
            .password(&server.secret)
            .dbname("postgres")
            .connect(NoTls)
            .unwrap();
        client.batch_execute(TABLES).unwrap();
        Rows { client }
    }

    /// Inserts hours, and answers what it took.
    pub(crate) fn insert(&mut self, facts: &[NewFact]) -> Duration {
        let hours: Vec<(&NewFact, &TimeEntry)> = facts
            .iter()
            .map(|new| match &new.fact {
                Fact::TimeEntry(time) => (new, time),
                other => panic!("{} is no time entry", other.kind()),
            })
            .collect();
        let began = Instant::now();
        let mut tx = self.client.transaction().unwrap();
        let entry = tx
            .prepare(
                "INSERT INTO entry SELECT id, 'A', seq, '2026-10-01T13:00:00.000Z', person, 'time-entry',
                     $4, $4, $4, $4, $4
                 FROM unnest($1::bytea[], $2::bigint[], $3::bytea[]) AS rows (id, seq, person)",
            )
            .unwrap();
        let time = tx
            .prepare(
                "INSERT INTO time_entry SELECT id, date::date, person, job, code, hours, NULL, false, NULL
                 FROM unnest($1::bytea[], $2::text[], $3::bytea[], $4::bytea[], $5::bytea[], $6::bigint[])
                 AS rows (id, date, person, job, code, hours)",
            )
            .unwrap();
        let nothing: &[u8] = &[0; 32];
        let mut seq = 0_i64;
        for rows in hours.chunks(AT_ONCE) {
            let ids: Vec<&[u8]> = rows.iter().map(|(new, _)| new.id.bytes().as_slice()).collect();
            let numbers: Vec<i64> = rows
                .iter()
                .map(|_| {
                    seq += 1;
                    seq
                })
                .collect();
            let owners: Vec<&[u8]> = rows.iter().map(|(new, _)| new.person.bytes().as_slice()).collect();
            tx.execute(&entry, &[&ids, &numbers, &owners, &nothing]).unwrap();
            let dates: Vec<String> = rows.iter().map(|(_, time)| time.date.to_string()).collect();
            let people: Vec<&[u8]> = rows.iter().map(|(_, time)| time.person.bytes().as_slice()).collect();
            let jobs: Vec<&[u8]> = rows.iter().map(|(_, time)| time.job.bytes().as_slice()).collect();
            let codes: Vec<&[u8]> = rows.iter().map(|(_, time)| time.code.bytes().as_slice()).collect();
            let worked: Vec<i64> = rows.iter().map(|(_, time)| time.hours.e4()).collect();
            tx.execute(&time, &[&ids, &dates, &people, &jobs, &codes, &worked]).unwrap();
        }
        tx.commit().unwrap();
        began.elapsed()
    }
}
