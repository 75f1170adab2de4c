//! What every handler shares: registry, clock, settings, and what counts wrong passwords.

use std::future::{Ready, ready};
use std::sync::Arc;

use actix_web::dev::Payload;
use actix_web::{FromRequest, HttpRequest};

use crate::clinical::Moment;
use crate::registry::{self, By, Change, Db, Registry};
use crate::settings::Settings;
use crate::web::blocking::blocking;
use crate::web::clock::Clock;
use crate::web::error::PageError;
use crate::web::throttle::Throttle;

/// The house. Cloning it is cheap; a handler takes it as a parameter.
#[derive(Clone)]
pub struct House {
    registry: Registry,
    clock: Clock,
    settings: Arc<Settings>,
    throttle: Arc<Throttle>,
}

impl House {
    /// A house over an open registry.
    #[must_use]
    pub fn new(registry: Registry, clock: Clock, settings: Settings) -> Self {
        Self {
            registry,
            clock,
            settings: Arc::new(settings),
            throttle: Arc::default(),
        }
    }

    /// Now, in UTC to the second.
    #[must_use]
    pub fn now(&self) -> Moment {
        self.clock.now()
    }

    /// As the program was started.
    #[must_use]
    pub fn settings(&self) -> &Settings {
        &self.settings
    }

    pub(crate) fn throttle(&self) -> &Throttle {
        &self.throttle
    }

    pub(crate) fn registry(&self) -> &Registry {
        &self.registry
    }

    pub(crate) fn of(req: &HttpRequest) -> Result<&Self, PageError> {
        req.app_data::<Self>().ok_or(PageError::Stopping)
    }

    /// Reads, off the async threads; everything `work` asks sees the same state.
    pub(crate) async fn read<T: Send + 'static>(
        &self,
        work: impl FnOnce(&mut Db) -> registry::Result<T> + Send + 'static,
    ) -> Result<T, PageError> {
        let registry = self.registry.clone();
        blocking(move || registry.read(work)).await
    }

    /// Writes everything `work` does or nothing, off the async threads, as `by` and at this moment.
    pub(crate) async fn write<T: Send + 'static>(
        &self,
        by: impl Into<By>,
        work: impl FnOnce(&mut Change<'_>) -> registry::Result<T> + Send + 'static,
    ) -> Result<T, PageError> {
        let (registry, by, now) = (self.registry.clone(), by.into(), self.now());
        blocking(move || registry.write(&by, now, work)).await
    }
}

impl FromRequest for House {
    type Error = actix_web::Error;
    type Future = Ready<Result<Self, actix_web::Error>>;

    fn from_request(req: &HttpRequest, _: &mut Payload) -> Self::Future {
        ready(Self::of(req).cloned().map_err(Into::into))
    }
}
