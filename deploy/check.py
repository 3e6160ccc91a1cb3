"""What deploy/ promises, tried on this machine with small data: check.py BINARY proxies NGINX HAPROXY, check.py BINARY spark HAPROXY.

proxies: an answer to 30 MB of lines comes whole through both proxies to a client that writes all before it reads; stream=true goes through HAProxy;
a replica that is killed costs nobody an answer. spark: two executors, one of them killed in the middle, by pipe and by post: every line answered once.
"""

import contextlib
import http.client
import json
import os
import pathlib
import re
import signal
import socket
import subprocess
import sys
import tempfile
import threading
import time

HERE = pathlib.Path(__file__).parent
sys.path.insert(0, str(HERE / "spark"))

MEGABYTE = 1_000_000
LINES = [("cake flour", 400), ("granulated sugar", 360), ("unsalted butter", 200), ("egg", 210), ("whole milk", 160), ("baking powder", 12), ("salt", 4)]


def question(number):
    """One formula of an invented catalogue; no two are alike."""
    lines = [{"ingredient": name, "amount": f"{grams + number % 37}.{number % 10} g"} for name, grams in LINES]
    formula = {"name": f"Larkrise layer cake {number}", "style": "creamed", "parts": [{"name": "batter", "lines": lines}]}
    return json.dumps({"id": number, "formula": formula}, separators=(",", ":"))


def catalogue(size):
    """Questions of so many bytes together, and how many they are."""
    lines, length = [], 0
    while length < size:
        lines.append(question(len(lines)) + "\n")
        length += len(lines[-1])
    return "".join(lines).encode(), len(lines)


def whole(body, count):
    """Every line answered once, in order, the counts behind them."""
    *answers, last = body.splitlines()
    assert json.loads(last) == {"counts": {"lines": count, "answered": count, "problems": 0}}, last
    assert len(answers) == count
    for number, answer in enumerate(answers):
        assert answer.startswith(b'{"line":%d,"id":%d,' % (number + 1, number)), answer[:80]


def free_port():
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        return taken.getsockname()[1]


def until(true, what, seconds=20):
    began = time.monotonic()
    while not true():
        assert time.monotonic() - began < seconds, f"{what}: not within {seconds} s"
        time.sleep(0.05)


def answers(port, path="/health/ready"):
    try:
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=2)
        connection.request("GET", path)
        return connection.getresponse().status == 200
    except OSError:
        return False


@contextlib.contextmanager
def running(command, port, **more):
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, **more)
    try:
        until(lambda: answers(port), command[0])
        yield process
    finally:
        # A master of several processes takes them with it only when it is asked.
        process.terminate()
        try:
            process.wait(timeout=15)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()


def replica(binary, port):
    settings = {"EVENCRUMB_ADDRESS": f"127.0.0.1:{port}", "EVENCRUMB_LOG": "error", "EVENCRUMB_PAUSE_SECONDS": "0"}
    return running([binary], port, env=os.environ | settings)


@contextlib.contextmanager
def proxy(kind, program, ports):
    """A proxy with the configuration of this folder; only the ports are others."""
    own = free_port()
    places = dict(zip(("8080", "8081", "8082"), map(str, (own, *ports))))
    with tempfile.TemporaryDirectory() as folder:
        # Its processes that serve may be somebody else's than the one that starts them.
        os.chmod(folder, 0o755)
        file = {"nginx": "nginx.conf", "haproxy": "haproxy.cfg"}[kind]
        text = re.sub(r"(?<=127\.0\.0\.1:)808[012]", lambda found: places[found[0]], (HERE / "proxy" / file).read_text())
        pathlib.Path(folder, file).write_text(text)
        command = [program, "-p", folder, "-c", file, "-g", "daemon off;"] if kind == "nginx" else [program, "-db", "-f", f"{folder}/{file}"]
        with running(command, own):
            yield own


def write_all_then_read(port, target, body):
    """As most scripts do: the whole request is written before a byte of the answer is read."""
    with socket.create_connection(("127.0.0.1", port), timeout=60) as stream:
        head = f"POST {target} HTTP/1.1\r\nHost: larkrise.example\r\nContent-Type: application/x-ndjson\r\nContent-Length: {len(body)}\r\n\r\n"
        stream.sendall(head.encode() + body)
        return read(stream)


def write_while_reading(port, target, body):
    with socket.create_connection(("127.0.0.1", port), timeout=60) as stream:
        head = f"POST {target} HTTP/1.1\r\nHost: larkrise.example\r\nContent-Type: application/x-ndjson\r\nContent-Length: {len(body)}\r\n\r\n"
        writer = threading.Thread(target=lambda: stream.sendall(head.encode() + body), daemon=True)
        writer.start()
        answer = read(stream)
        writer.join()
        return answer


def read(stream):
    response = http.client.HTTPResponse(stream)
    response.begin()
    body = response.read()
    assert response.status == 200, body[:400]
    return body


def proxies(binary, nginx, haproxy):
    body, count = catalogue(30 * MEGABYTE)
    long, long_count = catalogue(100 * MEGABYTE)
    ports = free_port(), free_port()
    for kind, program in (("nginx", nginx), ("haproxy", haproxy)):
        with replica(binary, ports[0]) as first, replica(binary, ports[1]), proxy(kind, program, ports) as port:
            began = time.monotonic()
            whole(write_all_then_read(port, "/v1/ratio-check?counts=true", body), count)
            print(f"{kind}: {count} questions in 30 MB, written before the answer was read: {time.monotonic() - began:.1f} s")
            if kind == "haproxy":
                began = time.monotonic()
                whole(write_while_reading(port, "/v1/ratio-check?stream=true&counts=true", long), long_count)
                print(f"{kind}: {long_count} questions in 100 MB by stream=true: {time.monotonic() - began:.1f} s")
            lost(port, first)
            print(f"{kind}: a replica killed among 400 questions: all answered")


def lost(port, first):
    """One replica is killed while single questions are asked: none fails. Each comes in two pieces, as many a client sends it: the kill falls between."""
    for number in range(400):
        body = f"[{question(number)}]".encode()
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
        connection.putrequest("POST", "/v1/ratio-check")
        connection.putheader("Content-Type", "application/json")
        connection.putheader("Content-Length", str(len(body)))
        connection.endheaders()
        if number >= 100:
            # Long enough for a proxy to have passed on the first piece, if it does so.
            time.sleep(0.005)
        if number == 100:
            first.send_signal(signal.SIGKILL)
        connection.send(body)
        response = connection.getresponse()
        answer = response.read()
        assert response.status == 200, f"question {number}: {response.status} {answer[:400]}"
        assert json.loads(answer)[0]["id"] == number, f"question {number}"
        connection.close()


def executors():
    """The processes of this session's executors: descendants of this very process."""
    parents, found = {}, []
    for entry in pathlib.Path("/proc").glob("[0-9]*"):
        with contextlib.suppress(OSError):
            status = (entry / "stat").read_text()
            parents[int(entry.name)] = int(status.rsplit(")", 1)[1].split()[1])
            if b"CoarseGrainedExecutorBackend" in (entry / "cmdline").read_bytes():
                found.append(int(entry.name))

    def ours(process):
        while process > 1 and process != os.getpid():
            process = parents.get(process, 0)
        return process == os.getpid()

    return [process for process in found if ours(process)]


def slowly(lines):
    """Each partition takes a while, so that there is a middle in which to be killed."""
    time.sleep(0.4)
    return lines


def spark(binary, haproxy):
    from engine import by_pipe, by_post
    from pyspark.sql import SparkSession

    os.environ["PYTHONPATH"] = f"{HERE}:{HERE / 'spark'}"
    os.environ["PYSPARK_PYTHON"] = sys.executable
    session = (
        SparkSession.builder.master("local-cluster[2,1,512]")
        .config("spark.executor.memory", "512m")
        .config("spark.executorEnv.PYTHONPATH", os.environ["PYTHONPATH"])
        .config("spark.ui.enabled", "false")
        .config("spark.ui.showConsoleProgress", "false")
        .config("spark.driver.bindAddress", "127.0.0.1")
        .config("spark.driver.host", "127.0.0.1")
        .getOrCreate()
    )
    session.sparkContext.setLogLevel("OFF")
    count, partitions = 20_000, 16
    ports = free_port(), free_port()
    with tempfile.TemporaryDirectory() as folder, replica(binary, ports[0]), replica(binary, ports[1]), proxy("haproxy", haproxy, ports) as port:
        questions = session.sparkContext.parallelize(range(count), partitions).map(question).mapPartitions(slowly)
        for way, answered in (
            ("pipe", by_pipe(questions, binary, "ratio-check")),
            ("post", by_post(questions, f"http://127.0.0.1:{port}", "ratio-check")),
        ):
            began = time.monotonic()
            killed = through_a_loss(session, lambda: answered.saveAsTextFile(f"{folder}/{way}"))
            lines = [line for file in sorted(pathlib.Path(folder, way).glob("part-*")) for line in file.read_text().splitlines()]
            ids = sorted(json.loads(line)["id"] for line in lines)
            assert ids == list(range(count)), f"{way}: {len(ids)} answers to {count} questions"
            assert all('"problem"' not in line for line in lines)
            print(f"spark, {way}: {count} questions in {partitions} partitions, executor {killed} killed: each answered once, {time.monotonic() - began:.1f} s")
    session.stop()


def through_a_loss(session, work):
    """Does the work in a thread; kills one executor when the first partitions are done."""
    failed = []

    def doing():
        try:
            work()
        except Exception as error:  # told in the main thread
            failed.append(error)

    worker = threading.Thread(target=doing)
    worker.start()
    tracker = session.sparkContext.statusTracker()

    def done():
        stages = [tracker.getStageInfo(stage) for stage in tracker.getActiveStageIds()]
        return sum(stage.numCompletedTasks for stage in stages if stage) >= 2 or not worker.is_alive()

    until(done, "the first partitions", 120)
    assert worker.is_alive(), failed or "the work was over before its middle"
    victim = executors()[0]
    os.kill(victim, signal.SIGKILL)
    worker.join()
    assert not failed, failed
    return victim


if __name__ == "__main__":
    binary, what, *programs = sys.argv[1:]
    {"proxies": proxies, "spark": spark}[what](str(pathlib.Path(binary).resolve()), *programs)
