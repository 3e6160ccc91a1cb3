//! A future that is asked only once it has rung. Those who wait for several things at once ask each of them whenever one has come; of what comes once in a
//! process's life, or when a clock tells, every request would ask in vain.

use std::pin::Pin;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::task::{Context, Poll, Wake, Waker};

use futures_util::task::AtomicWaker;

/// The future, behind its bell.
pub struct Belled<F> {
    future: Pin<Box<F>>,
    bell: Arc<Bell>,
    /// The bell, as the future knows it.
    rope: Waker,
    /// Whom the bell calls.
    listener: Option<Waker>,
}

struct Bell {
    rung: AtomicBool,
    listener: AtomicWaker,
}

impl Wake for Bell {
    fn wake(self: Arc<Self>) {
        self.wake_by_ref();
    }

    fn wake_by_ref(self: &Arc<Self>) {
        self.rung.store(true, Ordering::Release);
        self.listener.wake();
    }
}

impl<F: Future> Belled<F> {
    pub fn new(future: F) -> Self {
        // Rung from the beginning: nothing comes of a future that has never been asked.
        let bell = Arc::new(Bell { rung: AtomicBool::new(true), listener: AtomicWaker::new() });
        Self { future: Box::pin(future), rope: bell.clone().into(), bell, listener: None }
    }
}

impl<F: Future> Future for Belled<F> {
    type Output = F::Output;

    fn poll(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<F::Output> {
        let this = &mut *self;
        let known = this.listener.as_ref().is_some_and(|listener| listener.will_wake(context.waker()));
        // Loaded first: an exchange for every request would cost as much as asking.
        if known && !this.bell.rung.load(Ordering::Acquire) {
            return Poll::Pending;
        }
        this.listener = Some(context.waker().clone());
        this.bell.listener.register(context.waker());
        // Looked at once there is a listener: what rings from now on is heard.
        if !this.bell.rung.swap(false, Ordering::AcqRel) {
            return Poll::Pending;
        }
        this.future.as_mut().poll(&mut Context::from_waker(&this.rope))
    }
}

#[cfg(test)]
mod tests {
    use std::future::poll_fn;
    use std::sync::atomic::AtomicUsize;

    use tokio::sync::Notify;

    use super::*;

    #[tokio::test]
    async fn it_is_asked_when_it_has_rung_and_not_before() {
        let (asked, told) = (Arc::new(AtomicUsize::new(0)), Arc::new(Notify::new()));
        let waiting = {
            let (asked, told) = (asked.clone(), told.clone());
            async move {
                let mut told = Box::pin(told.notified());
                poll_fn(|context| {
                    asked.fetch_add(1, Ordering::Relaxed);
                    told.as_mut().poll(context)
                })
                .await;
            }
        };
        let mut belled = Belled::new(waiting);
        let look = async |belled: &mut Belled<_>| poll_fn(|context| Poll::Ready(Pin::new(&mut *belled).poll(context))).await;
        for _ in 0..100 {
            assert_eq!(look(&mut belled).await, Poll::Pending);
        }
        assert_eq!(asked.load(Ordering::Relaxed), 1);
        told.notify_one();
        assert_eq!(look(&mut belled).await, Poll::Ready(()));
        assert_eq!(asked.load(Ordering::Relaxed), 2);
    }

    #[tokio::test]
    async fn whoever_asked_last_is_called() {
        let told = Arc::new(Notify::new());
        let mut belled = Belled::new({
            let told = told.clone();
            async move { told.notified().await }
        });
        // Asked once by nobody who can be called, then handed to a task.
        assert_eq!(Pin::new(&mut belled).poll(&mut Context::from_waker(Waker::noop())), Poll::Pending);
        let task = tokio::spawn(belled);
        tokio::task::yield_now().await;
        told.notify_one();
        task.await.expect("it ends");
    }
}
