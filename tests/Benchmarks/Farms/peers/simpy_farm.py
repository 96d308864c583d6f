"""The same farms in SimPy 3: prints seconds of processor time per task, of the fastest run, and the finish of the last run.

usage: simpy_farm.py bare|loaded|storage nodes tasks seconds
"""
import heapq
import random
import sys
import time
from collections import deque

import simpy


def bare(env, nodes, tasks):
    waiting = deque(tasks)

    def node():
        while waiting:
            yield env.timeout(waiting.popleft())

    for _ in range(nodes):
        env.process(node())


def loaded(env, nodes, tasks):
    """Overheads, failures tried again, nodes that start tasks in a nightly window only."""
    waiting = deque(tasks)
    draw = random.Random(1)
    day, opens, closes = 86_400, 0, 36_000

    def node():
        while waiting:
            since = env.now % day
            if not opens <= since < closes:
                yield env.timeout(day - since + opens)
                continue
            work = waiting.popleft()
            yield env.timeout(45 + work)
            if draw.random() < 0.02:
                waiting.append(work)

    for _ in range(nodes):
        env.process(node())


class Shared:
    """Processor sharing by virtual time."""

    def __init__(self, env, rate):
        self.env, self.rate, self.heap, self.virtual, self.updated, self.version, self.number = env, rate, [], 0.0, 0.0, 0, 0

    def advance(self):
        if self.heap:
            self.virtual += (self.env.now - self.updated) * self.rate / len(self.heap)
        self.updated = self.env.now

    def move(self, size):
        self.advance()
        done = self.env.event()
        self.number += 1
        heapq.heappush(self.heap, (self.virtual + size, self.number, done))
        self.schedule()
        return done

    def schedule(self):
        self.version += 1
        if self.heap:
            wait = max(0.0, (self.heap[0][0] - self.virtual) * len(self.heap) / self.rate)
            due = self.env.timeout(wait, self.version)
            due.callbacks.append(self.over)

    def over(self, due):
        if due.value != self.version:
            return
        self.advance()
        while self.heap and self.heap[0][0] - self.virtual <= 1e-6 * self.rate:
            heapq.heappop(self.heap)[2].succeed()
        self.schedule()


def storage(env, nodes, tasks):
    """Overheads and failures, and each task moves its bytes through shared storage while it computes."""
    waiting = deque(tasks)
    draw = random.Random(1)
    array = Shared(env, 1200e6)

    def node():
        while waiting:
            work = waiting.popleft()
            yield env.timeout(45)
            moved = array.move(work * 115e6)
            yield env.timeout(work)
            yield moved
            if draw.random() < 0.02:
                waiting.append(work)

    for _ in range(nodes):
        env.process(node())


def main():
    farm = {"bare": bare, "loaded": loaded, "storage": storage}[sys.argv[1]]
    nodes, count, seconds = int(sys.argv[2]), int(sys.argv[3]), float(sys.argv[4])
    jobs = 36
    lengths = [60 + (j * 37) % 61 + j / 100.0 for j in (i // (count // jobs) for i in range(count))]
    best, started, finish = float("inf"), time.perf_counter(), 0.0
    while time.perf_counter() - started < seconds:
        env = simpy.Environment()
        farm(env, nodes, lengths)
        begun = time.process_time()
        env.run()
        best = min(best, (time.process_time() - begun) / count)
        finish = env.now
    print(best, finish)


main()
