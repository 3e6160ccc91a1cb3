"""A catalogue of questions through Apache Spark: through the binary in a pipe on each executor, or in pieces to replicas behind a balancer.

Both take and give lines of JSON. Order is Spark's affair, so give each question an "id" of your own and join by it: "line" counts within a partition or
a piece. A task that is lost is done again, and its answers count once, because each question has one answer whoever computes it.

    spark-submit engine.py pipe /opt/evencrumb ratio-check hdfs:///questions hdfs:///answers
    spark-submit engine.py post http://balancer:8080 ratio-check hdfs:///questions hdfs:///answers
"""

import json
import shlex
import sys
import time
import urllib.error
import urllib.request

# Small enough to be held on the way by any proxy, large enough that a request costs nothing.
PIECE = 4_000_000
TRIES = 8


def by_pipe(questions, binary, calculation):
    """Each partition through a process of its own. A process that ends badly fails its task, which Spark runs again."""
    return questions.pipe(f"{shlex.quote(binary)} {calculation} --problems-allowed", checkCode=True)


def by_post(questions, address, calculation):
    """Each partition in pieces of 4 MB over HTTP."""

    def answers(lines):
        piece, size = [], 0
        for line in lines:
            piece.append(line)
            size += len(line) + 1
            if size >= PIECE:
                yield from posted(address, calculation, piece)
                piece, size = [], 0
        if piece:
            yield from posted(address, calculation, piece)

    return questions.mapPartitions(answers)


def posted(address, calculation, lines):
    """The answers to one piece. Taken whole or not at all: the last line counts them, so that a cut is seen and the piece sent again."""
    request = urllib.request.Request(
        f"{address}/v1/{calculation}?counts=true",
        data=("\n".join(lines) + "\n").encode(),
        headers={"Content-Type": "application/x-ndjson"},
    )
    for attempt in range(TRIES):
        try:
            with urllib.request.urlopen(request, timeout=120) as response:
                *answers, last = response.read().decode().splitlines()
            if json.loads(last)["counts"]["lines"] == len(lines) == len(answers):
                return answers
        except urllib.error.HTTPError as error:
            if error.code not in (429, 500, 502, 503, 504):
                raise RuntimeError(error.read().decode()) from None
        except (OSError, ValueError, KeyError):
            pass
        time.sleep(min(0.2 * 2**attempt, 5))
    raise RuntimeError(f"no whole answer after {TRIES} tries")


def main():
    from pyspark.sql import SparkSession

    way, where, calculation, source, target = sys.argv[1:]
    session = SparkSession.builder.appName("evencrumb").getOrCreate()
    questions = session.sparkContext.textFile(source)
    (by_pipe if way == "pipe" else by_post)(questions, where, calculation).saveAsTextFile(target)
    session.stop()


if __name__ == "__main__":
    main()
