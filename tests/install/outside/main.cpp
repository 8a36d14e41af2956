// SPDX-License-Identifier: MIT
// Judges a load with the installed library, and prints its verdict and the torque that turns it, N m.
#include <cstdio>
#include <exception>

#include "analysis/analysis.h"
#include "load/load_file.h"
#include "report/report.h"

int main(int argc, char** argv) {
    if (argc != 2) return 2;
    try {
        const evenspit::Assembly load = evenspit::read_load(argv[1], MODELS);
        const evenspit::Analysis analysis = evenspit::analyse(load);
        const std::string report = evenspit::text_report(load, analysis, {});
        std::printf("%.*s %.12g\n", static_cast<int>(report.find(' ')), report.c_str(),
                    analysis.balance.motor_torque_peak_n_m);
    } catch (const std::exception& error) {
        std::fprintf(stderr, "%s\n", error.what());
        return 1;
    }
}
