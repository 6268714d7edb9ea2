// Ctrl-C and the request to end (SIGTERM): the first asks the study under way to stop and keep what is done,
// the second ends the program at once. Where no study has begun to ask, so does the first.
#pragma once

namespace lowspot::cli {

// Begins to listen; also lets a closed pipe be an error of writing rather than a sudden end, so that files
// are written whole whoever reads the answer.
// heed: from now on, as one of several processes that share a study does.
void listen_for_stop(bool heed);
// Whether one of them came; from the first time on that this is asked, the first of them is heeded.
bool stop_asked();
// Whether whoever read the answer has gone away, as `| head` does.
bool reader_gone();

} // namespace lowspot::cli
