//! Where every request is met, before the framework: calculations are answered here at once, since its router and layers would cost as much again;
//! whatever else there is goes on to it. What is done around every request is done around both.

use std::task::{Context, Poll};

use actix_http::Request;
use actix_web::body::BoxBody;
use actix_web::dev::{AppConfig, Response, Service, ServiceFactory, ServiceResponse};
use actix_web::{Error, HttpResponse};
use futures_util::future::LocalBoxFuture;

use super::held::Held;
use super::watch::{self, Watched};
use super::{House, routes};

/// Makes the doorstep of each worker, with the framework's application behind it.
pub struct Doorstep<F> {
    house: &'static House,
    behind: F,
}

impl<F> Doorstep<F> {
    pub fn before(house: &'static House, behind: F) -> Self {
        Self { house, behind }
    }
}

impl<F> ServiceFactory<Request> for Doorstep<F>
where
    F: ServiceFactory<Request, Config = AppConfig, Response = ServiceResponse, Error = Error, InitError = ()>,
    F::Future: 'static,
    <F::Service as Service<Request>>::Future: 'static,
{
    type Response = Response<BoxBody>;
    type Error = Error;
    type Config = AppConfig;
    type Service = Threshold<F::Service>;
    type InitError = ();
    type Future = LocalBoxFuture<'static, Result<Self::Service, ()>>;

    fn new_service(&self, config: AppConfig) -> Self::Future {
        let (house, behind) = (self.house, self.behind.new_service(config));
        Box::pin(async move { Ok(Threshold { house, behind: behind.await? }) })
    }
}

/// One worker's doorstep.
pub struct Threshold<S> {
    house: &'static House,
    behind: S,
}

impl<S> Service<Request> for Threshold<S>
where
    S: Service<Request, Response = ServiceResponse, Error = Error>,
    S::Future: 'static,
{
    type Response = Response<BoxBody>;
    type Error = Error;
    type Future = LocalBoxFuture<'static, Result<Self::Response, Error>>;

    fn poll_ready(&self, context: &mut Context<'_>) -> Poll<Result<(), Error>> {
        self.behind.poll_ready(context)
    }

    fn call(&self, mut request: Request) -> Self::Future {
        let house = self.house;
        let held = Held::take(&mut request);
        let asked = routes::calculation(request.path());
        let watched = Watched::new(request.head(), asked.map(|(path, _)| path));
        // What each holds while it waits is large and stays where it is; only its place is handed on.
        match (watch::refused(request.head()), asked) {
            (Some(problem), _) => Box::pin(around(house, watched, held, std::future::ready(problem.response()))),
            (None, Some((_, entry))) => {
                let (head, payload) = request.into_parts();
                let answering = async move { routes::ask(house, entry, &head, payload).await };
                Box::pin(around(house, watched, held, answering))
            }
            (None, None) => {
                let answering = self.behind.call(request);
                let answering = async { answering.await.map_or_else(|error| HttpResponse::from_error(error), HttpResponse::from) };
                Box::pin(around(house, watched, held, answering))
            }
        }
    }
}

/// An answer with what every answer gets; whatever happens on the way, there is one.
async fn around(
    house: &'static House,
    watched: Watched,
    held: Option<Held>,
    answering: impl Future<Output = HttpResponse>,
) -> Result<Response<BoxBody>, Error> {
    let mut response = watched.unharmed(answering).await;
    watched.finish(house, &mut response);
    held.into_iter().for_each(Held::release);
    Ok(response.into())
}
