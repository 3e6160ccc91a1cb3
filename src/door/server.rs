//! The server: bound before anything is said, run until it is told to stop, then drained.

use std::future::ready;
use std::net::{SocketAddr, TcpListener};
use std::sync::atomic::{AtomicBool, Ordering};

use actix_http::{HttpService, KeepAlive};
use actix_service::{IntoServiceFactory, ServiceFactoryExt, fn_service, map_config};
use actix_web::dev::{AppConfig, Server as HttpServer, ServerHandle};
use actix_web::rt::net::TcpStream;
use actix_web::{App, rt, web};
use socket2::{Domain, SockRef, Socket, Type};
use tokio::signal::unix::{Signal, SignalKind, signal};
use tokio::sync::Semaphore;

use super::bell::Belled;
use super::bulk::room;
use super::doorstep::DoorstepFactory;
use super::gate::Gate;
use super::tables::Tables;
use super::wire::{Patience, Wire};
use super::{House, routes};
use crate::reference::Reference;
use crate::settings::Settings;

/// How many connections may wait to be taken.
const BACKLOG: i32 = 1024;
/// How long a refused sender is still listened to, so that it sees the refusal.
const LINGER: std::time::Duration = std::time::Duration::from_secs(2);

/// A service that holds its address and does not answer yet.
pub struct Server {
    listener: TcpListener,
    address: SocketAddr,
    house: &'static House,
}

impl Server {
    /// Takes the address. The fault is one line for the person who starts the service.
    pub fn bind(settings: Settings, reference: &'static Reference) -> Result<Self, String> {
        let wanted = settings.address;
        let listener = listen(wanted).map_err(|error| cannot_listen(wanted, &error))?;
        let address = listener.local_addr().map_err(|error| cannot_listen(wanted, &error))?;
        let tables = Tables::written(reference);
        let gate = Gate::new(&settings);
        let (bulk, room) = (Semaphore::new(settings.bulk), room::all(&settings));
        let house = Box::leak(Box::new(House { settings, reference, tables, draining: AtomicBool::new(false), gate, bulk, room }));
        Ok(Self { listener, address, house })
    }

    /// Answers until the service is told to stop and has finished what was in work. Says its address once it answers and hears.
    pub fn run(self, told: impl FnOnce(SocketAddr)) -> Result<(), String> {
        rt::System::new().block_on(self.serve(told)).map_err(|error| format!("the service ended: {error}"))
    }

    async fn serve(self, told: impl FnOnce(SocketAddr)) -> std::io::Result<()> {
        let house = self.house;
        let signals = Signals::take()?;
        let settings = &house.settings;
        let server = HttpServer::build()
            .workers(settings.workers())
            .max_concurrent_connections(settings.connections.div_ceil(settings.workers()))
            // It knows whole seconds only.
            .shutdown_timeout(settings.grace_seconds.as_secs_f64().ceil() as u64)
            .disable_signals();
        let draining = server.graceful_shutdown_signal();
        let answered = move || {
            let draining = draining.clone();
            let app = App::new().configure(move |app| routes::mount(house, app)).default_service(web::to(routes::nowhere));
            let doorstep = DoorstepFactory::before(house, app.into_factory());
            let http = HttpService::build()
                // The wire times idleness by looks; a timer for every answer would cost more than all that is done around it.
                .keep_alive(KeepAlive::Os)
                .client_request_timeout(settings.head_seconds)
                .client_disconnect_timeout(LINGER)
                .graceful_shutdown_signal(move || {
                    let draining = draining.clone();
                    Belled::new(async move { draining.notified().await })
                })
                .on_connect_ext(|wire: &Wire, data| drop(data.insert(wire.pace())))
                .h1(map_config(doorstep, |()| AppConfig::default()));
            fn_service(move |stream: TcpStream| {
                // Who takes nothing of an answer is cut by the kernel, which alone sees what was taken.
                drop(SockRef::from(&stream).set_tcp_user_timeout(Some(settings.write_seconds)));
                // Held back until the last piece is acknowledged, the second piece of an answer would come 40 ms late.
                drop(stream.set_nodelay(true));
                let from = stream.peer_addr().ok();
                ready(Ok((Wire::new(stream, Patience::of(settings)), from)))
            })
            .and_then(http)
        };
        let server = server.listen("http", self.listener, answered)?.run();
        let stop = server.handle();
        rt::spawn(drain_when_told(house, stop, signals));
        told(self.address);
        server.await
    }
}

fn listen(address: SocketAddr) -> std::io::Result<TcpListener> {
    let socket = Socket::new(Domain::for_address(address), Type::STREAM, None)?;
    socket.set_reuse_address(true)?;
    socket.bind(&address.into())?;
    socket.listen(BACKLOG)?;
    socket.set_nonblocking(true)?;
    Ok(socket.into())
}

fn cannot_listen(address: SocketAddr, error: &std::io::Error) -> String {
    let why = match error.kind() {
        std::io::ErrorKind::AddrInUse => "another program listens there; stop it or choose another port",
        std::io::ErrorKind::PermissionDenied => "this port is reserved; choose one from 1024 on",
        std::io::ErrorKind::AddrNotAvailable => "this machine has no such address",
        _ => "the system does not allow it",
    };
    format!("cannot listen on {address} (--address, EVENCRUMB_ADDRESS): {why}")
}

/// Waits for a signal to stop: not ready first, then a pause in which everything is still answered, then the end. A second signal ends at once.
async fn drain_when_told(house: &'static House, stop: ServerHandle, mut signals: Signals) {
    signals.next().await;
    house.draining.store(true, Ordering::Relaxed);
    tracing::info!("told to stop: finishing what is in work");
    let draining = async {
        tokio::time::sleep(house.settings.pause_seconds).await;
        stop.stop(true).await;
    };
    tokio::select! {
        () = draining => {}
        () = signals.next() => std::process::exit(0),
    }
}

/// What tells a service to stop. A closed terminal does not.
struct Signals {
    terminate: Signal,
    interrupt: Signal,
    hang_up: Signal,
}

impl Signals {
    fn take() -> std::io::Result<Self> {
        Ok(Self {
            terminate: signal(SignalKind::terminate())?,
            interrupt: signal(SignalKind::interrupt())?,
            hang_up: signal(SignalKind::hangup())?,
        })
    }

    async fn next(&mut self) {
        loop {
            tokio::select! {
                _ = self.terminate.recv() => return,
                _ = self.interrupt.recv() => return,
                _ = self.hang_up.recv() => {}
            }
        }
    }
}
