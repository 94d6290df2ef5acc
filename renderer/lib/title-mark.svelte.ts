/** What stands before the title of the window, whatever screen is shown: how many waits are over. */
class TitleMark {
  text = $state('');
}

export const titleMark = new TitleMark();
