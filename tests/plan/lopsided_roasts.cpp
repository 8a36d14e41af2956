// SPDX-License-Identifier: MIT
// How much of the torque of lopsided roasts (limbs missing, rods off their line, joints with bones) the
// recommended answers take away: prints the distribution. lopsided_roasts [HOW MANY], 200 if not told; exit
// status 1 if one that is feasible falls short of nine tenths.
#include "plan/lopsided_roasts.h"

#include <cstdlib>
#include <iostream>

int main(int count, char** words) {
    const evenspit::test::TorqueCuts cuts =
        evenspit::test::cut_torques(count > 1 ? std::atoi(words[1]) : 200);
    std::cout << cuts.text();
    for (const std::string& line : cuts.short_of) std::cout << "short of nine tenths: " << line << '\n';
    return cuts.short_of.empty() ? EXIT_SUCCESS : EXIT_FAILURE;
}
