#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Every public function has its contract: a /** comment with @since; where it can fail, @return; where it names a @source, a
@param for each parameter. (What a published method must say besides, tables/generate_methods.py demands.)

    contracts.py              judge the public headers
    contracts.py --self-test  judge a bad header; every rule must fire
"""

from __future__ import annotations

import argparse
import re
import sys

from public_headers import Prototype, prototypes, prototypes_of

# The result of a method is described by @return, the length of its lists by the lists.
NEED_NO_PARAM = {"result", "n", "count"}


def problems_of(function: Prototype) -> list[str]:
    where = f"{function.header}: {function.name}:"
    if not function.comment:
        return [f"{where} no /** comment directly over it"]
    tags = set(re.findall(r"@(\w+)", function.comment))
    problems = []
    if "since" not in tags:
        problems.append(f"{where} @since is missing")
    if function.result == "flc_status" and not function.name.startswith("flc_status_"):
        problems.append(f"{where} returns flc_status: declare it FLC_STATUS, so that ignoring it can warn")
    if function.result == "FLC_STATUS" and "return" not in tags:
        problems.append(f"{where} @return is missing")
    described = set(re.findall(r"@param(?:\[\w+\])?\s+(\w+)", function.comment))
    names = {re.match(r"\w+", name)[0] for _, name in function.parameters}
    if "source" in tags:
        problems += [f"{where} @param {name} is missing" for name in sorted(names - described - NEED_NO_PARAM)]
    return problems


def problems_in(functions: list[Prototype]) -> list[str]:
    problems = [problem for function in functions for problem in problems_of(function)]
    if not functions:
        problems.append("no prototype was found in the public headers: nothing was judged")
    elif not any("@source" in function.comment for function in functions):
        problems.append("no function with a @source was found in the public headers")
    return problems


def self_test() -> int:
    bad = """
#define FLC_API something
/* not a contract */
FLC_API void flc_bare(void);
/** Purpose. */
FLC_API int flc_ageless(void);
/** Purpose.
 *  @since 0.1 */
FLC_API FLC_STATUS flc_silent(void);
/** Purpose.
 *  @return a status
 *  @since 0.1 */
FLC_API flc_status flc_plain(void);
FLC_API FLC_STATUS flc_shares_the_comment(int a);

FLC_API FLC_STATUS flc_after_a_gap(int a);
/** Purpose.
 *  @param a_m length {m}
 *  @return x {1}
 *  @source somewhere
 *  @since 0.1 */
FLC_API FLC_STATUS flc_method(double a_m, const double *b_m_list,
                              size_t n, double *result);
"""
    expected = ["flc_bare: no /** comment", "flc_ageless: @since", "flc_silent: @return", "flc_plain: returns",
                "flc_after_a_gap: no /** comment", "flc_method: @param b_m_list"]
    found = problems_in(prototypes_of("bad.h", bad))
    missed = [rule for rule in expected if not any(rule in problem for problem in found)]
    if len(found) != len(expected) or not problems_in([]):
        missed.append(f"{len(found)} problems found, {len(expected)} planted")
    for rule in missed:
        print(f"self-test: {rule}: not as planted")
    print(f"self-test: {len(expected)} breaches planted, {'all found' if not missed else 'not all found'}")
    return 1 if missed else 0


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--self-test", action="store_true", help="check that each rule can fail")
    if parser.parse_args().self_test:
        return self_test()
    functions = prototypes()
    problems = problems_in(functions)
    fallible = sum(function.result == "FLC_STATUS" for function in functions)
    sourced = sum("@source" in function.comment for function in functions)
    print("\n".join([*problems, f"{len(functions)} functions in {len({f.header for f in functions})} headers, "
                     f"{fallible} that can fail, {sourced} with a source; {len(problems)} problems"]))
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
