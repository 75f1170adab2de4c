//! The schema goes up, down and up again on rows, and nothing in it cascades.

use brimline::registry::{By, Durability, Registry, RegistryError};
use diesel::connection::SimpleConnection;
use diesel_migrations::{EmbeddedMigrations, MigrationHarness, embed_migrations};

use crate::house::{House, at, count, run};
use crate::women::breech;

const MIGRATIONS: EmbeddedMigrations = embed_migrations!("migrations");

#[test]
fn up_down_up_on_rows_leaves_a_registry_that_works() {
    let house = House::new();
    let nela = house.nela();
    house.visits(nela.pregnancy, breech("2026-09-10T09:00"));
    let mut db = house.beside();
    db.batch_execute("PRAGMA foreign_keys = on").unwrap();
    assert!(
        count(&mut db, "SELECT count(*) AS n FROM flags") > 0,
        "the tables hold rows"
    );
    db.revert_all_migrations(MIGRATIONS).unwrap();
    let left = "SELECT count(*) AS n FROM sqlite_master WHERE type IN ('table', 'index') AND name NOT LIKE 'sqlite_%' AND name NOT LIKE '%diesel%'";
    assert_eq!(count(&mut db, left), 0);
    db.run_pending_migrations(MIGRATIONS).unwrap();
    drop(db);
    let again = Registry::open_in(house.file().parent().unwrap(), Durability::Process).unwrap();
    again
        .write(&By::program("test"), at("2026-09-10T09:00"), |change| {
            change.tell("works", "test", "", "")
        })
        .unwrap();
}

#[test]
fn opening_twice_changes_nothing() {
    let house = House::new();
    let before = house.count("audit");
    Registry::open_in(house.file().parent().unwrap(), Durability::Full).unwrap();
    assert_eq!(house.count("audit"), before);
    assert!(
        Registry::open_fresh_in(house.file().parent().unwrap()).is_err(),
        "a fresh one never takes over an old one"
    );
}

#[test]
fn nothing_cascades_and_every_reference_holds() {
    let house = House::new();
    let mut db = house.beside();
    assert_eq!(
        count(
            &mut db,
            "SELECT count(*) AS n FROM sqlite_master WHERE upper(sql) LIKE '%CASCADE%'"
        ),
        0
    );
    let named = "SELECT count(*) AS n FROM sqlite_master AS t JOIN pragma_table_info(t.name) AS c \
        WHERE t.type = 'table' AND (c.name LIKE '%\\_id' ESCAPE '\\' OR c.name LIKE '%\\_by' ESCAPE '\\') \
        AND NOT EXISTS (SELECT 1 FROM pragma_foreign_key_list(t.name) AS k WHERE k.\"from\" = c.name) \
        AND t.name <> 'audit' AND c.name <> 'given_by'";
    assert_eq!(
        count(&mut db, named),
        0,
        "a column that names another row has its foreign key"
    );
    db.batch_execute("PRAGMA foreign_keys = on").unwrap();
    house.nela();
    assert!(
        diesel::connection::SimpleConnection::batch_execute(&mut db, "DELETE FROM mothers")
            .is_err()
    );
}

#[test]
fn a_registry_of_a_newer_program_is_refused() {
    let house = House::new();
    run(
        &mut house.beside(),
        "INSERT INTO __diesel_schema_migrations (version) VALUES ('20990101')",
    );
    let opened = Registry::open_in(house.file().parent().unwrap(), Durability::Process);
    assert!(matches!(opened, Err(RegistryError::Refused(_))));
}

#[test]
fn an_address_without_a_known_scheme_is_refused() {
    for address in [
        "",
        "registry.db",
        "mysql://x",
        "sqlite://",
        "file:registry.db",
    ] {
        assert!(
            matches!(
                Registry::open(address, Durability::Process),
                Err(RegistryError::Refused(_))
            ),
            "{address}"
        );
    }
}
