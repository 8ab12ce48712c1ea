"""Makes tests/outside/route_inspection.json: 500 random graphs of joins with the shortest closed walks over them.

The optimum is NetworkX's (network_simplex on the directed route-inspection flow, then eulerian_circuit to prove that
a walk of that length exists): https://networkx.org, version printed in the file. Run by hand when the graphs are to
change; the Rust test only reads the file. The program under test has no part in making the numbers.

    python3 tests/outside/route_inspection.py > tests/outside/route_inspection.json
"""

import json
import random
import networkx as nx


def shortest(graph):
    """Length of the shortest closed walk over every edge of a strongly connected graph."""
    flow = nx.DiGraph()
    for node in graph:
        # NetworkX: demand is what flows in minus what flows out.
        flow.add_node(node, demand=graph.out_degree(node) - graph.in_degree(node))
    for a, b, data in graph.edges(data=True):
        if a != b:
            flow.add_edge(a, b, weight=data["weight"])
    again, uses = nx.network_simplex(flow)
    multi = nx.MultiDiGraph()
    for a, b, data in graph.edges(data=True):
        extra = uses.get(a, {}).get(b, 0) if a != b else 0
        for _ in range(1 + extra):
            multi.add_edge(a, b, weight=data["weight"])
    walk = list(nx.eulerian_circuit(multi))
    total = sum(graph[a][b]["weight"] for a, b in walk)
    assert {(a, b) for a, b in walk} == set(graph.edges())
    assert total == again + sum(d["weight"] for _, _, d in graph.edges(data=True))
    return total


def main():
    chance = random.Random(1912)
    cases = []
    for number in range(500):
        size = chance.randint(2, 12)
        forbidden = chance.choice([0.05, 0.2, 0.4, 0.6, 0.75])
        lengths = [chance.choice([1, 1, 1, 2, 4]) if number % 2 else 1 for _ in range(size)]
        graph = nx.DiGraph()
        graph.add_nodes_from(range(size))
        for a in range(size):
            for b in range(size):
                if chance.random() >= forbidden:
                    graph.add_edge(a, b, weight=lengths[b])
        if graph.number_of_edges() == size * size:
            graph.remove_edge(chance.randrange(size), chance.randrange(size))
        parts = []
        for members in sorted(sorted(part) for part in nx.strongly_connected_components(graph)):
            inside = graph.subgraph(members)
            if inside.number_of_edges():
                parts.append([members, shortest(inside)])
        cases.append({"size": size, "lengths": lengths, "joins": ["".join("x" if graph.has_edge(a, b) else "." for b in range(size)) for a in range(size)], "circuits": parts})
    whole = sum(1 for case in cases if len(case["circuits"]) == 1 and len(case["circuits"][0][0]) == case["size"])
    # joins: a row for each version, x where the version of that column may follow it.
    print("{")
    print(f' "made_with": "networkx {nx.__version__}", "strongly_connected": {whole},')
    print(' "graphs": [')
    print(",\n".join("  " + json.dumps(case, separators=(",", ":")) for case in cases))
    print(" ]\n}")


main()
