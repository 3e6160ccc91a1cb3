//! Where every request that the reader of HTTP lets through is met, before the framework: calculations are answered here at once, since its router and layers would cost as much again;
//! whatever else there is goes on to it. What is done around every request is done around both.

use std::future::ready;
use std::pin::Pin;
use std::task::{Context, Poll, ready};

use actix_http::Request;
use actix_web::body::{BodySize, BoxBody, MessageBody};
use actix_web::dev::{AppConfig, Service, ServiceFactory, ServiceResponse};
use actix_web::{Error, HttpResponse};
use futures_util::future::LocalBoxFuture;

use super::held::Held;
use super::watch::{self, Watched};
use super::wire::{InWork, Pace};
use super::{House, routes};

/// Makes the doorstep of each worker, with the framework's application behind it.
pub struct DoorstepFactory<F> {
    house: &'static House,
    behind: F,
}

impl<F> DoorstepFactory<F> {
    pub fn before(house: &'static House, behind: F) -> Self {
        Self { house, behind }
    }
}

impl<F> ServiceFactory<Request> for DoorstepFactory<F>
where
    F: ServiceFactory<Request, Config = AppConfig, Response = ServiceResponse, Error = Error, InitError = ()>,
    F::Future: 'static,
    <F::Service as Service<Request>>::Future: 'static,
{
    type Response = HttpResponse;
    type Error = Error;
    type Config = AppConfig;
    type Service = Doorstep<F::Service>;
    type InitError = ();
    type Future = LocalBoxFuture<'static, Result<Self::Service, ()>>;

    fn new_service(&self, config: AppConfig) -> Self::Future {
        let (house, behind) = (self.house, self.behind.new_service(config));
        Box::pin(async move { Ok(Doorstep { house, behind: behind.await? }) })
    }
}

/// One worker's doorstep.
pub struct Doorstep<S> {
    house: &'static House,
    behind: S,
}

impl<S> Service<Request> for Doorstep<S>
where
    S: Service<Request, Response = ServiceResponse, Error = Error>,
    S::Future: 'static,
{
    type Response = HttpResponse;
    type Error = Error;
    type Future = WatchedAnswer;

    fn poll_ready(&self, context: &mut Context<'_>) -> Poll<Result<(), Error>> {
        self.behind.poll_ready(context)
    }

    fn call(&self, mut request: Request) -> WatchedAnswer {
        let held = Held::take(&mut request);
        let in_work = request.conn_data::<Pace>().map(Pace::work);
        let asked = routes::calculation(request.path());
        let watched = Watched::new(&self.house.settings.cors_origins, request.head(), asked);
        let answering: PendingAnswer = match (watch::refused(request.head()), asked) {
            (Some(problem), _) => Box::pin(ready(problem.response())),
            (None, Some(asked)) => {
                let (head, payload) = request.into_parts();
                routes::ask(self.house, asked.entry, watched.id(), head, payload)
            }
            (None, None) => {
                let answering = self.behind.call(request);
                Box::pin(async { answering.await.map_or_else(HttpResponse::from_error, HttpResponse::from) })
            }
        };
        WatchedAnswer { house: self.house, watched, held, in_work, answering, given: false }
    }
}

/// What answers a request. What it holds while it waits is large and stays where it is; only its place is handed on.
pub type PendingAnswer = LocalBoxFuture<'static, HttpResponse>;

/// An answer with what every answer gets; whatever happens on the way, there is one.
pub struct WatchedAnswer {
    house: &'static House,
    watched: Watched,
    held: Option<Held>,
    in_work: Option<InWork>,
    answering: PendingAnswer,
    /// Whether the answer has been handed on.
    given: bool,
}

impl Future for WatchedAnswer {
    type Output = Result<HttpResponse, Error>;

    fn poll(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<Self::Output> {
        let mut response = ready!(watch::unharmed(self.answering.as_mut(), context)).unwrap_or_else(|| self.watched.failed());
        self.watched.finish(self.house, &mut response);
        self.given = true;
        self.held.take().into_iter().for_each(Held::release);
        let in_work = self.in_work.take().filter(|_| response.body().size() == BodySize::Stream);
        Poll::Ready(Ok(match in_work {
            Some(in_work) => response.map_body(|_, body| BoxBody::new(in_work.until_the_end_of(body))),
            None => response,
        }))
    }
}

impl Drop for WatchedAnswer {
    fn drop(&mut self) {
        if !self.given {
            self.watched.left();
        }
    }
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::AtomicBool;
    use std::task::Waker;

    use actix_web::dev::RequestHead;
    use tokio::sync::Semaphore;

    use super::*;
    use crate::door::gate::Gate;
    use crate::door::tables::Tables;
    use crate::reference::Reference;
    use crate::settings::Settings;

    #[test]
    fn an_answer_that_panics_is_a_problem_with_all_that_every_answer_carries() {
        let (settings, reference) = (Settings::default(), Reference::load().expect("the tables"));
        let house = Box::leak(Box::new(House {
            gate: Gate::new(&settings),
            tables: Tables::written(reference),
            draining: AtomicBool::new(false),
            bulk: Semaphore::new(1),
            room: Semaphore::new(1),
            settings,
            reference,
        }));
        let watched = Watched::new(&[], &RequestHead::default(), routes::calculation("/v1/convert"));
        let mut answered =
            WatchedAnswer { house, watched, held: None, in_work: None, answering: Box::pin(async { panic!("a test") }), given: false };
        let Poll::Ready(Ok(answer)) = Pin::new(&mut answered).poll(&mut Context::from_waker(Waker::noop())) else { panic!("it waits") };
        assert_eq!(answer.status(), 500);
        for header in ["x-request-id", "link", "vary", "x-content-type-options"] {
            assert!(answer.headers().contains_key(header), "{header}");
        }
    }
}
