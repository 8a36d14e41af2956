// SPDX-License-Identifier: MIT
// Findings with their words, as readers get them.
#pragma once

#include <string>
#include <vector>

#include "report/finding_words.h"

namespace evenspit::test {

struct Said : Finding {
    std::string message, topic, unit;
};

inline Said said(const Finding& finding, const Assembly& load) {
    return {finding, finding_text(finding, load, UnitSystem::metric), std::string(topic_of(finding.code)),
            std::string(unit_of(finding.code))};
}

inline std::vector<Said> said(const std::vector<Finding>& findings, const Assembly& load) {
    std::vector<Said> all;
    all.reserve(findings.size());
    for (const Finding& finding : findings) all.push_back(said(finding, load));
    return all;
}

}  // namespace evenspit::test
