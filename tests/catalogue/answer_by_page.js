((typed) => {
  let answer;
  try {
    answer = answerTo(readQuestion(typed));
  } catch (fault) {
    if (fault instanceof Fault) return { fault: fault.message };
    throw fault;
  }
  const name = (one) => [one.row.at, one.fit, one.terminal_fit];
  return {
    kind: answer.kind,
    question: partsOf(answer.question),
    rows: answer.rows.map(name),
    held: answer.held.map(name),
    figures: answer.rows.map((one) => one.row.figures),
    differences: answer.differences.map((one) => [one.aspect, one.values, one.settles]),
    correspondence: answer.correspondence,
    said_first: answer.said_first,
    // A note that goes on with another question has it beside its text, where the command has the command.
    notes: answer.notes.map((note) => note.text || note.split(": torquary find")[0]),
    not_understood: answer.not_understood,
    offers: answer.offers.map((one) => [one.word, one.instead, one.words]),
    choices: answer.choices.map((one) => [one.what, one.name, one.count]),
  };
})
