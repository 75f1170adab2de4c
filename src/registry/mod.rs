//! The only place that knows the database.
