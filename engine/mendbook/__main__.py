"""`python -m mendbook`."""

from mendbook.cli import main

if __name__ == "__main__":
    main()
