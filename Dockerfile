# The service as one static file in an empty image, run by nobody. Build and run as deploy/README.md says.
FROM rust:1.95-bookworm AS build
WORKDIR /build
COPY Cargo.toml Cargo.lock ./
COPY src src
COPY openapi openapi
COPY tests tests
# glibc linked in: the service looks no names up, so the usual caveat of a static glibc does not apply.
ENV RUSTFLAGS="-C target-feature=+crt-static"
# The target is named, or the flags would reach what runs at compile time too; it is that of the machine that builds.
RUN cargo build --release --locked --bin evencrumb --target "$(rustc --print host-tuple)" \
    && cp target/*/release/evencrumb /evencrumb

FROM scratch
COPY --from=build /evencrumb /evencrumb
USER 65534:65534
ENV EVENCRUMB_ADDRESS=0.0.0.0:8080
EXPOSE 8080
ENTRYPOINT ["/evencrumb"]
