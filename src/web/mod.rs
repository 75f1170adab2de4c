//! Pages, forms, sessions.
