// SPDX-License-Identifier: MIT
#include "load/spread_keys.h"

#include "load/key_rows.h"

namespace evenspit::key_rows {

std::vector<KeyTable> spread_tables() {
    KeyTable table{.path = "spread",
                   .about = "How far things may be off, two times in three: one standard deviation"};
    for (const SpreadKey& key : spread_keys) {
        table.keys.push_back(
            usually(Spread{}.*key.member,
                    quantity(key.key, key.dimension, Range::not_negative, key.example, key.meaning)));
    }
    table.keys.push_back(
        in_words("by its source", quantity("bearing_strength", Dimension::share, Range::not_negative,
                                           R"("13 %")", "What flesh bears")));
    table.keys.push_back(
        usually(false, flag("none", "true", "Nothing is off: judged as written; goes with no other key")));
    return {std::move(table)};
}

}  // namespace evenspit::key_rows
